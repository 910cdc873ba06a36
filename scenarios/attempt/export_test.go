package attempt

// Sign gives a changed file a digest that fits again.
func (f *File) Sign() { f.Digest = f.sum() }
