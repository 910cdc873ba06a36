package diagnose

import "crankbay/sim/unit"

// Limit rules. Service documents use different ones; all are computed side by
// side and the card says which one counts.
const (
	RuleRatio75    = "ratio_75"        // lowest ≥ 75 % of highest
	RuleRatio70    = "ratio_70_690kpa" // lowest ≥ 70 % of highest and ≥ 690 kPa
	RuleDifference = "difference"      // highest − lowest ≤ the page's figure
	RuleWithin10   = "within_10"       // lowest ≥ 90 % of highest
	RuleMean20     = "mean_20"         // every cylinder within 20 % of the mean
	RuleMinimum    = "minimum"         // lowest ≥ the page's minimum; always applies where given
)

// RuleIDs lists the rules a card can choose from.
func RuleIDs() []string {
	return []string{RuleRatio75, RuleRatio70, RuleDifference, RuleWithin10, RuleMean20}
}

const (
	// kiloPascal in Pa.
	kiloPascal = 1000.0
	// StandardAtmosphere is sea-level pressure (ISO 2533, exact by definition).
	StandardAtmosphere = unit.Pressure(101325)
	// floor70 is the absolute part of the 70 % rule: 100 psi, printed 690 kPa.
	floor70 = unit.Gauge(690 * kiloPascal)
	// printable is a reading at which every rule of shares asks for its share.
	printable = unit.Gauge(2000 * kiloPascal)
	// between keeps a limit off the scale marks: readings come in half
	// graduations, so a limit that falls on one must not hang on a last bit.
	between = unit.Gauge(1 * kiloPascal)
)

// atLeast reports v ≥ limit with the limit moved off the scale marks.
func atLeast(v, limit unit.Gauge) bool { return v >= limit-between }

// Allowed75 returns the lowest acceptable reading [Pa] beside the highest one.
// Source: limit charts of service manuals 1992–2016 and TM 5-4210-230-14&P-1,
// which print 0.75 · highest rounded to a whole psi.
func Allowed75(highest unit.Gauge) unit.Gauge { return 0.75 * highest }

// Allowed70 returns the lowest acceptable reading [Pa] beside the highest one at sea
// level: 70 % of it, but never under 690 kPa. Source: service manuals 1990–2009.
func Allowed70(highest unit.Gauge) unit.Gauge { return max(0.70*highest, floor70) }

// floor returns the absolute part of the 70 % rule for the air the limits are for: a
// figure of a page like any other, so that it falls with the air.
func (l Limits) floor() unit.Gauge {
	if l.PrintedAt > 0 {
		return floor70 * unit.Gauge(l.PrintedAt/StandardAtmosphere)
	}
	return floor70
}

// AllowedDifference returns the lowest acceptable reading [Pa] when readings may
// lie at most d apart. Source: service manuals; d is 100 kPa, 200 kPa or 3 bar.
func AllowedDifference(highest, d unit.Gauge) unit.Gauge { return highest - d }

// AllowedWithin10 returns the lowest acceptable reading [Pa] when readings may lie
// 10 % of the highest apart. Source: common practice in trade articles.
func AllowedWithin10(highest unit.Gauge) unit.Gauge { return 0.90 * highest }

// AllowedMean20 returns the lowest and the highest acceptable reading [Pa] around
// the mean. Source: TM 1-1500-204-23-1: 20 % below the average is rejected; the
// upper side is ours, since too high is a finding too.
func AllowedMean20(mean unit.Gauge) (low, high unit.Gauge) { return 0.80 * mean, 1.20 * mean }

// Allowed returns the lowest acceptable reading [Pa] by the rule that counts,
// with the page's minimum on top. mean is only used by the mean rule.
func (l Limits) Allowed(highest, mean unit.Gauge) unit.Gauge {
	var low unit.Gauge
	switch l.Rule {
	case RuleRatio70:
		low = max(0.70*highest, l.floor())
		if l.RatioMin > 0 && unit.Gauge(l.RatioMin)*highest > low {
			low = unit.Gauge(l.RatioMin) * highest
		}
	case RuleDifference:
		low = AllowedDifference(highest, l.DifferenceMax)
	case RuleWithin10:
		low = AllowedWithin10(highest)
	case RuleMean20:
		low, _ = AllowedMean20(mean)
	default:
		low = Allowed75(highest)
		if l.RatioMin > 0 {
			low = unit.Gauge(l.RatioMin) * highest
		}
	}
	if l.Minimum > low {
		low = l.Minimum
	}
	return low
}

// AtAltitude returns the limits corrected once for the pressure of the day [Pa
// absolute]: a gauge reading grows with the air that is there to be squeezed, so
// standard, minimum and difference scale by ambient over the pressure that the page
// is printed for, 101.325 kPa unless it says so (standard atmosphere; trade tables
// differ by some percent). The reading itself is never corrected as well. An ambient
// outside (40, 120) kPa changes nothing, and what is corrected is not corrected again.
func (l Limits) AtAltitude(ambient unit.Pressure) Limits {
	if !(ambient > 40*kiloPascal && ambient < 120*kiloPascal) {
		return l
	}
	printed := l.PrintedAt
	if !(printed > 0) {
		printed = StandardAtmosphere
	}
	if printed == ambient {
		return l
	}
	k := unit.Gauge(ambient / printed)
	l.PrintedAt = ambient
	l.Standard *= k
	l.Minimum *= k
	l.DifferenceMax *= k
	return l
}

// Verdicts applies every rule to the readings of the cylinders seen. A rule that
// lacks a figure or readings is marked as not known, never as passed.
func (l Limits) Verdicts(seen []Seen) []RuleVerdict {
	l = l.readable()
	lo, hi, mean, n := extremes(seen)
	ids := append(RuleIDs(), RuleMinimum)
	out := make([]RuleVerdict, 0, len(ids))
	for _, id := range ids {
		v := RuleVerdict{Rule: id, Counts: id == l.Rule || id == RuleMinimum && l.Minimum > 0}
		if n > 0 {
			v.Lowest, v.Highest = lo.Cylinder, hi.Cylinder
			v.Low, v.High = lo.DryLast, hi.DryLast
			l.apply(&v, mean, n)
		}
		out = append(out, v)
	}
	return out
}

// readable returns the limits without figures that are no pressure: a page that
// says nonsense says nothing.
func (l Limits) readable() Limits {
	for _, g := range []*unit.Gauge{&l.Standard, &l.Minimum, &l.DifferenceMax} {
		if !(*g > 0 && *g < 1e9) {
			*g = 0
		}
	}
	if !(l.PrintedAt > 40*kiloPascal && l.PrintedAt < 120*kiloPascal) {
		l.PrintedAt = 0
	}
	if !(l.RatioMin > 0 && l.RatioMin < 1) {
		l.RatioMin = 0
	}
	return l
}

// apply fills in value, limit and verdict of one rule.
func (l Limits) apply(v *RuleVerdict, mean unit.Gauge, n int) {
	allowed := unit.Gauge(0)
	v.Known = n > 1
	switch v.Rule {
	case RuleRatio75, RuleRatio70, RuleWithin10:
		only := Limits{Rule: v.Rule, PrintedAt: l.PrintedAt}
		if v.Counts {
			only.RatioMin = l.RatioMin
		}
		allowed = only.Allowed(v.High, mean)
		v.Value, v.Limit = ratio(v.Low, v.High), ratio(allowed, v.High)
		if !(v.High > 0) { // the share that is asked of any reading
			v.Limit = ratio(only.Allowed(printable, mean), printable)
		}
		if v.Rule == RuleRatio70 { // two parts, told apart
			v.Limit, v.Floor = max(0.70, only.RatioMin), only.floor()
		}
	case RuleDifference:
		v.Known = v.Known && l.DifferenceMax > 0
		allowed = AllowedDifference(v.High, l.DifferenceMax)
		v.Value, v.Limit = float64(v.High-v.Low), float64(l.DifferenceMax)
	case RuleMean20:
		low, high := AllowedMean20(mean)
		allowed = low
		if ratio(v.High, mean)-1 > 1-ratio(v.Low, mean) { // the worse side is the one to show
			v.Value, v.Limit = ratio(v.High, mean), 1.20
		} else {
			v.Value, v.Limit = ratio(v.Low, mean), 0.80
		}
		if !atLeast(high, v.High) {
			allowed = v.High + 2*between // fails on the high side
		}
	case RuleMinimum:
		v.Known = l.Minimum > 0
		allowed = l.Minimum
		v.Value, v.Limit = float64(v.Low), float64(l.Minimum)
	}
	// Where nothing reads anything no rule is kept, though nothing is three quarters of
	// nothing.
	v.Passed = v.Known && v.High > 0 && atLeast(v.Low, allowed)
}

// extremes returns lowest and highest cylinder, the mean and the number of dry
// readings; the first of equals wins.
func extremes(seen []Seen) (lo, hi Seen, mean unit.Gauge, n int) {
	for _, s := range seen {
		if !s.Valid {
			continue
		}
		if n == 0 || s.DryLast < lo.DryLast {
			lo = s
		}
		if n == 0 || s.DryLast > hi.DryLast {
			hi = s
		}
		mean += s.DryLast
		n++
	}
	if n > 0 {
		mean /= unit.Gauge(n)
	}
	return lo, hi, mean, n
}

// ratio returns a/b, 0 where that says nothing.
func ratio(a, b unit.Gauge) float64 {
	if !(b > 0) {
		return 0
	}
	return clean(float64(a / b))
}
