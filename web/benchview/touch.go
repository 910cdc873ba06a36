//go:build js

package benchview

import "github.com/hajimehoshi/ebiten/v2"

// heldTargets act as long as they are pressed; the others act when let go.
var heldTargets = map[string]bool{"switch": true, "release": true}

// Pointer takes one pointer event in CSS pixels: down, move, up, cancel. It
// returns the name of what lies under the pointer, empty for nothing. A thing
// acts when the pointer goes up where it went down; what is held says both.
func (v *View) Pointer(kind string, x, y float64) string {
	if v.plan == nil {
		return ""
	}
	box, ok := v.plan.At(x, y)
	switch kind {
	case "down":
		v.held = nil
		if ok {
			v.held = &box
			if heldTargets[box.Target] {
				v.hit(Hit{box.Target, box.Cylinder, "down"})
			}
		}
	case "up", "cancel":
		v.letGo(kind == "up" && ok, box.Target, box.Cylinder)
	}
	if !ok {
		return ""
	}
	return box.Target
}

func (v *View) letGo(over bool, target string, cylinder int) {
	h := v.held
	v.held = nil
	switch {
	case h == nil:
	case heldTargets[h.Target]:
		v.hit(Hit{h.Target, h.Cylinder, "up"})
	case over && target == h.Target && cylinder == h.Cylinder:
		v.hit(Hit{Target: target, Cylinder: cylinder})
	}
}

func (v *View) hit(h Hit) {
	const most = 64 // nobody touches faster than the page fetches
	if len(v.hits) < most {
		v.hits = append(v.hits, h)
	}
	ebiten.ScheduleFrame()
}

// TakeHits returns what was touched since the last call.
func (v *View) TakeHits() []Hit {
	h := v.hits
	v.hits = nil
	return h
}

// Touched reports whether there are hits to take.
func (v *View) Touched() bool { return len(v.hits) > 0 }
