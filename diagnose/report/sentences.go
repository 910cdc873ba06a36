package report

// sentence holds the two things a rule can say. Bars cut off parts that are left
// out when a fact in them is missing.
type sentence struct{ rule, passed, failed string }

func sentenceOf(rule string) (sentence, bool) {
	for _, list := range [][]sentence{gateSentences(), prepareSentences(), careSentences(), measureSentences(), confirmSentences(), recordSentences(), chooseSentences(), concludeSentences()} {
		for _, s := range list {
			if s.rule == rule {
				return s, true
			}
		}
	}
	return sentence{}, false
}

func gateSentences() []sentence {
	return []sentence{
		{"gate_transmission", "The vehicle could not drive off while it was cranked.",
			"Cranked with a gear engaged ({times} time(s)). A remote switch does not ask the transmission; the car moves."},
		{"gate_fuel_ignition", "No spark could meet fuel from the open plug holes.",
			"Cranked with fuel and ignition live and plug holes open ({times} time(s)). That mist burns."},
		{"gate_liquid_lock", "No cylinder was cranked full of liquid.",
			"Cranked against liquid in a cylinder ({times} time(s)). Liquid does not give; rods bend."},
		{"gate_air", "Air never drove a piston or a wrench.",
			"Air pushed the crank or a wrench round ({times} time(s)). The piston belongs at the top of its compression first."},
		{"gate_belts", "No hand came near a moving belt or fan.",
			"A belt or fan caught a hand, sleeve or hair ({times} time(s))."},
		{"gate_other", "No other hazard came up.",
			"Something dangerous happened ({times} time(s)); see the timeline."},
	}
}

func prepareSentences() []sentence {
	return []sentence{
		{"glasses_on", "Eye protection was on from the first plug to the last stroke.",
			"Eye protection was missing when plugs came out, air was blown or the engine turned."},
		{"vehicle_held", "Park or neutral, brake on, wheels chocked.",
			"The vehicle was not held before cranking: it takes park or neutral, the brake and chocks."},
		{"belts_clear", "Belts and fan were checked for hands, hair and sleeves.",
			"Nobody looked whether belts and fan were clear before the crank turned."},
		{"fluids_checked", "Oil and coolant were looked at first.",
			"Oil and coolant were not looked at before cranking. Low oil or lost coolant is half a diagnosis."},
		{"fuel_disabled", "Fuel was disabled for every cranking.",
			"Fuel was disabled for {runs} of {of} crankings. Live injectors wash the bores and make vapor."},
		{"ignition_disabled", "Ignition was disabled for every cranking.",
			"Ignition was disabled for {runs} of {of} crankings. An open coil sparks, or breaks."},
		{"disabled_before_throttle", "Fuel and ignition were off before the throttle was held.",
			"The throttle was held before fuel and ignition were both disabled."},
		{"switch_as_card", "Cranked by the switch this engine asks for.",
			"The card asks for this switch: {wanted}.| Used: {used}."},
		{"charger_on", "The charger held the battery up for every cranking.",
			"The charger was on for {runs} of {of} crankings; the last cylinders then read lower than the first."},
		{"wells_blown", "Plug wells were blown clean before the first plug came out.",
			"Plug wells were not blown clean before the first plug came out; dirt falls into the cylinder."},
		{"plugs_in_order", "Plugs were kept in order.",
			"|{loose} of {of} plugs were laid down loose. |A plug tells about its cylinder only while you know whose it is."},
		{"adapter_fits", "The right adapter was on before the hose went in.",
			"The adapter was missing or wrong. This plug hole takes thread {thread}, reach {reach}."},
		{"starter_spared", "The starter was never turned too long in one go.",
			"|The starter was turned for {longest} in one go; {limit} is enough for it. |Presses followed too soon on each other ({rested} of rest); two minutes let it cool.|"},
		{"no_cautions", "No caution came up that isn't judged elsewhere.",
			"Cautions: {times}.| {caution}.| Each was a danger that could be seen coming."},
		{"plugs_by_hand", "All plugs went back, each thread started by hand.",
			"Plugs go back by hand first, or the thread suffers.| {good} of {of} did.| Look at cylinder {cylinder}."},
		{"plugs_torqued", "Plugs were torqued to {torque}.",
			"The plugs were not torqued to {torque} after the last one went in."},
		{"reconnected", "Coils, fuel, ignition and throttle were put back.",
			"Not everything was put back after the test: coils, fuel, ignition and throttle as before, and a cylinder that was switched off fires again."},
		{"codes_cleared", "Codes were cleared at the end.",
			"Codes were not cleared. Disabling fuel and ignition sets some."},
		{"engine_started", "The engine was started after putting it back.",
			"The engine was not started after the test; the next person gets the surprise."},
		{"customer_told", "A remark was left for the customer after the wet test.",
			"Oil went into a cylinder and nobody was told. It smokes at the first start."},
	}
}

func measureSentences() []sentence {
	return []sentence{
		{"all_cylinders_dry", "Every cylinder was tested dry.",
			"{good} of {of} cylinders were tested dry.| Missing: cylinder {cylinder}.| One reading means something only beside all others."},
		{"throttle_held", "The throttle was wide open for every reading that counts.",
			"Throttle open on {good} of {of} cylinders|; not on cylinder {cylinder}|. Shut, it starves every stroke and all read low."},
		{"plugs_all_out", "All plugs were out for every reading that counts.",
			"All plugs out on {good} of {of} cylinders|; not on cylinder {cylinder}|. The starter then fights every cylinder at once."},
		{"gauge_proved", "The gauge was proved before the first reading.",
			"The gauge was not proved before the first reading: does it stand at zero, does it hold?"},
		{"gauge_released", "The needle stood at zero before every test.",
			"Needle at zero on {good} of {of} cylinders|; not on cylinder {cylinder}|. The last cylinder's pressure was still in the hose."},
		{"strokes_enough", "The stroke counts keep to the card.",
			"{good} of {of} cylinders got the strokes of the card| ({least} to {most})|.| Cylinder {cylinder} got {strokes}."},
		{"first_stroke_whole", "Every test began with a whole stroke.",
			"{good} of {of} tests began with the piston at the bottom|; not cylinder {cylinder}|. A part of a stroke is no first reading."},
		{"strokes_equal", "Every cylinder got the same number of strokes.",
			"|Fewest strokes {fewest}, most {most}. |Strokes mean something only when every cylinder gets the same number."},
		{"temperature_right", "The engine was as warm as the card asks.",
			"{good} of {of} cylinders were tested in the window of the card| ({least} to {most})|.| Cylinder {cylinder}: {temperature}."},
		{"speed_enough", "The engine turned fast enough, or slow cranking was recognized.",
			"{good} of {of} cylinders were cranked fast enough.| Cylinder {cylinder}: {speed}; under {least} no limit applies."},
		{"surprise_repeated", "A surprising reading was taken again. Good.",
			"|Cylinder {cylinder} read {reading}, {share} of the highest, and was believed at once. |Repeat a surprise first."},
		{"oil_amount", "The oil keeps to the card.",
			"{good} of {of} wet cylinders got the oil of the card| ({least} to {most})|.| Cylinder {cylinder} got {oil}.|"},
		{"wet_strokes", "The wet test got the same strokes as the dry one.",
			"Cylinder {cylinder}: {wet_strokes} strokes wet, {strokes} dry.| The gain is then not the oil's alone."},
		{"wet_same_way", "The wet test was done the same way as the dry one.",
			"{good} of {of} wet tests were done like the dry one: throttle, plugs, zero, speed.| Look at cylinder {cylinder}."},
	}
}

func careSentences() []sentence {
	return []sentence{
		{"plate_left_alone", "The motor-driven throttle plate was left to its pedal.",
			"The throttle plate is moved by a motor and was forced by hand. The pedal opens it."},
		{"hot_parts_left", "Nothing hot was opened.",
			"Something hot was opened ({times} time(s)): {caution}. Look at the temperature first."},
		{"hose_empty", "The hose came off empty.",
			"The hose was unscrewed under pressure ({times} time(s)). The release lets it out."},
		{"wrench_off", "The wrench came off the crank bolt every time.",
			"The wrench stayed on the crank bolt when air or starter could move it ({times} time(s))."},
		{"air_in_order", "The air was handled in order.",
			"The air was not handled in order ({times} time(s)): {caution}."},
	}
}

func confirmSentences() []sentence {
	return []sentence{
		{"leak_at_top", "Air went on at the top of compression, and the crank stood.",
			"{good} of {of} leakage tests had the piston at the top of its compression.| Cylinder {cylinder}: {leak}, {why}.| " +
				"Both valves shut and slack tell compression from overlap."},
		{"leak_listened", "The air was followed to where it came out.",
			"|Cylinder {cylinder} lost {leak}; not listened at: {where}. |The percentage says whether, only the ear says where."},
		{"current_compares", "The starter current compares all cylinders.",
			"The starter current compares nothing: {why}. All plugs in, fuel off, three seconds of cranking."},
		{"running_read", "Running compression was read at idle and after a snap.",
			"{good} of {of} running readings were taken.| Cylinder {cylinder}: {why}.|"},
		{"vacuum_shut", "Cranking vacuum was read with throttle shut and plugs in.",
			"Cranking vacuum says nothing like this: {why}. Throttle shut, plugs in."},
	}
}

func recordSentences() []sentence {
	return []sentence{
		{"no_number_invented", "Every number on the sheet has a reading behind it.",
			"{times} number(s) without a reading behind.| Cylinder {cylinder}: {field}, written {written}.| Cylinder {cylinder}: that was seen on cylinder {other}.|"},
		{"dry_last_written", "Every dry reading was written down.",
			"{good} of {of} dry readings were written down.| Missing or not as read: cylinder {cylinder}."},
		{"dry_first_written", "First strokes were written down.",
			"{good} of {of} first strokes were written down. How it builds up tells rings from valves.| Look at cylinder {cylinder}.| A part stroke doesn't count: {part_stroke}."},
		{"strokes_written", "Strokes were written down.",
			"The number of strokes was written down for {good} of {of} cylinders.| Missing: cylinder {cylinder}."},
		{"speed_written", "Cranking speed was written down: {speed}.",
			"Cranking speed was not written down as read from a tachometer."},
		{"battery_written", "The lowest battery voltage was written down: {voltage}.",
			"The lowest battery voltage was not written down as read from a voltmeter."},
		{"temperature_written", "The temperature was written down: {temperature}.",
			"Warm or cold? The temperature was not written down."},
		{"throttle_written", "The throttle position was written down.",
			"The throttle position was not written down. Whoever reads the report cannot see it."},
		{"spec_written", "The page's figures were written down.",
			"Figures not as on the right page: {field}. It says {wanted}.| Written was {written}."},
		{"wet_written", "Wet readings and the oil were written down.",
			"{good} of {of} wet tests were written down with reading and oil.| Missing: cylinder {cylinder}."},
		{"tests_written", "What the further tests showed was written down.",
			"{good} of {of} numbers of the further tests were written down.| Cylinder {cylinder}: {field}.|"},
		{"heard_written", "Where the air was heard was written down as it was.",
			"Right for {good} of {of} cylinders.| Cylinder {cylinder}, not as heard: {where}.|"},
		{"arithmetic", "The sums are right.",
			"{good} of {of} sums are right.| Cylinder {cylinder}: {field}, written {written}; from the sheet it comes to {wanted}.|"},
		{"ticks_true", "Every tick on the card is true.",
			"Ticked but not done: {item}."},
	}
}

func chooseSentences() []sentence {
	return []sentence{
		{"spec_looked_up", "The specification was looked up before concluding, on the right page.",
			"The specification was not looked up before concluding, or on another engine's page. Go by the engine code."},
		{"read_before_concluding", "Every cylinder had been read before anything was concluded.",
			"Read before concluding: {good} of {of} cylinders. The missing ones can turn the picture around."},
		{"dry_before_oil", "Every cylinder had its dry reading before any oil.",
			"Oil went in when only {good} of {of} cylinders had a good dry reading. There is no way back."},
		{"method_first", "What the method had spoiled was taken again, or named.",
			"Spoiled by method and not taken again.| Cylinder {cylinder}: {fault}.| Fix the method, then read what remains."},
		{"confirmed_when_called", "What stood out was followed by a test that tells why.",
			"Pattern: {pattern}. It says that something is wrong, not what.| These tell: {good_test}."},
		{"tests_by_cost", "The cheap tests came before the dear ones.",
			"{good} of {of} tests were the right ones for their minutes.| {test} ({minutes}) before {better} ({better_minutes}), which would have told as much."},
		{"tests_told", "Every further test could tell something.",
			"{good} of {of} further tests could tell something.| {test} ({minutes}) could not; the pattern was: {pattern}."},
		{"tests_worth", "Each test was about as good a choice as there was, for its minutes.",
			"{good} of {of} tests were about as good as the best one then.| {test} tells less for its minutes than {better} ({better_minutes}) would have."},
		{"wet_control", "A healthy cylinder was tested wet too.",
			"Only the low cylinder got oil. Every cylinder gains; compare with a healthy one's gain, in percent."},
		{"no_needless_oil", "All within limits, and no oil was wasted on it.",
			"All were within limits and nothing stood out. No wet test was needed."},
		{"next_test", "The next test named would tell more: {named}.",
			"Next test named: {named}.| It takes {minutes}; {better} tells as much in {better_minutes}.| These would tell more: {good_test}."},
	}
}

func concludeSentences() []sentence {
	return []sentence{
		{"conclusion_fits_readings", "The conclusion is what the readings say ({pattern}): {claimed}.",
			"Concluded: {claimed}.| By the readings that is {standing}.| Pattern of the readings: {pattern}.| Lowest: cylinder {lowest}, {share} of the highest.|" +
				" Wet gain {own_gain}.| Healthy: {control_gain}.| The readings point to: {points_to}.| They don't bear the conclusion out in full."},
		{"evidence_allowed", "The evidence allowed it: {claimed}, {probable} probable by what was known.",
			"What was known made it {probable} probable: {claimed}.| Most probable then: {first}, {first_probable}.| A guess that happens to be right is still a guess."},
		{"conclusion_fits_engine", "The conclusion is what was inside: {claimed}.",
			"Concluded: {claimed}.| By the readings that is {standing}.| Inside was: {answer}|, cylinder {answer_cylinder}|. " +
				"A right answer counts fully only with readings that point to it."},
		{"evidence_backed", "All evidence cited was really there and can be used.",
			"What is cited has to be there and fit to be used: {good} of {of} kinds are.| Not in the record: {missing}.|" +
				" Can't carry the conclusion: {spoiled}. Spoiled by method, or oil without the same oil in a healthy cylinder.|"},
		{"evidence_enough", "The conclusion cites what it needs.",
			"This conclusion needs more to rest on.| Not cited or not done: {missing}.| Can't be used as done: {spoiled}.|"},
		{"sureness", "As sure as the readings allow: {sure}.",
			"Said to be: {sure}.| By the readings the conclusion is {standing}; say no more and no less than that."},
	}
}
