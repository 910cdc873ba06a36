package sim

// SetIntake lets the intake cams move their valves, or not: where oil columns
// behind solenoids stand between cam and valve, nothing opens without current.
func (e *Engine) SetIntake(moves bool) {
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		share := c.params.IntakeLift
		if !moves {
			share = 0
		}
		c.intake.lobe = newLobe(&e.p.Intake, share, c.params.IntakeShift)
		e.setValves(i)
		e.place(c)
	}
}
