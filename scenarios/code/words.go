package code

// known are the words a log is made of: kinds of action and their choices. A word
// that is missing here is spelt out once. The order is part of version 1 of the
// short code, and so is the list: never change it, a new version has a new one.
const known = `
glasses gear brake chocks belts-check fluids-check spec-look-up warm-up cool-down fuel ignition charger
wells-blow plug-out plug-in plug-torque plug-look adapter gauge gauge-prove hose-on hose-off release throttle
switch voltmeter tachometer starter turn-by-hand oil wait needle-words hint section plug-leads-on engine-start
codes-clear tester-on tester-off air wrench clamp vacuum-gauge disable-one engine-run snap lash-check
timing-check borescope cooling-pressure coolant-watch listen heard
card-tick write erase finding finding-clear sure evidence next-test remark hand-in
on off park neutral drive disabled enabled ordered loose hand wrench open shut remote key bdc tdc overlap
tailpipe oil_filler coolant_neck plug_hole gasket_edge neighbour nowhere
guess likely certain
spec_standard spec_minimum spec_difference dry_first dry_last wet_first wet_last strokes wet_strokes rpm
battery_v coolant_c oil_ml leakage_percent leakage_supply hump_percent running_idle running_snap vacuum
lash_intake lash_exhaust timing_deg cooling_drop refit_last repeat_last second_last
dry wet first_stroke repeat spec leakage current running lash timing_marks cooling_pressure second_gauge
refit plug_look power_balance back_pressure
belts fluids warm plugs_out wells gauge_prove plugs_back reconnect codes
gauge-a gauge-b gauge-c m14-19-ring m14-19-bare m14-12.7-ring m12-19-ring m12-26.5-ring
sound rings valve_leak tight_lash gasket_neighbours timing carbon throttle_shut weak_battery method
`
