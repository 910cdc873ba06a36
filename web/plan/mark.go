package plan

// Point marks a thing as the one that the keyboard is on; an empty target marks
// nothing. The mark shows with the next Update.
func (p *Plan) Point(target string, cylinder int) { p.marked, p.markedCylinder = target, cylinder }

// drawMark frames the marked thing.
func (p *Plan) drawMark(l *List) {
	if p.marked == "" {
		return
	}
	for _, b := range p.Boxes {
		if b.Target == p.marked && (b.Cylinder == p.markedCylinder || p.markedCylinder == 0) {
			l.box(b.X+1.5, b.Y+1.5, b.W-3, b.H-3, 2, Style{Line: Focus, Width: 3, Exact: true})
			return
		}
	}
}
