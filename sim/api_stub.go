package sim

// TEMPORARY STUB of the engine's API while the model is written. Bodies follow.

const (
	ModelVersion   = 1
	TicksPerSecond = 1200
)

type PlugState int

const (
	PlugIn PlugState = iota
	PlugOut
	PlugGauge // hose fitted; at most one cylinder at a time
)

type Inputs struct {
	Starter bool // switch closed
	Release bool // gauge release pressed
}

type Engine struct{ tick int64 }

func Reference() Params                                                             { return Params{} }
func (p Params) Validate() error                                                    { return nil }
func New(p Params) (*Engine, error)                                                 { return &Engine{}, nil }
func (e *Engine) Step(in Inputs)                                                    { e.tick++ }
func (e *Engine) Params() Params                                                    { return Params{} }
func (e *Engine) Tick() int64                                                       { return e.tick }
func (e *Engine) SetPlug(cyl int, s PlugState)                                      {} // cyl from 1
func (e *Engine) Plug(cyl int) PlugState                                            { return PlugIn }
func (e *Engine) SetThrottle(open float64)                                          {} // 0 shut, 1 wide open
func (e *Engine) SetCharger(on bool)                                                {}
func (e *Engine) AddOil(cyl int, volume float64)                                    {}              // m³
func (e *Engine) Wash(cyl int, share float64)                                       {}              // fuel washes share of the film away, 0..1
func (e *Engine) Stand(seconds float64)                                             {}              // one exact jump of slow states, crank at rest
func (e *Engine) SetCoolant(kelvin float64)                                         {}              // warm up / cool down, at rest
func (e *Engine) SetAngle(rad float64)                                              {}              // turned by hand to this crank angle, at rest
func (e *Engine) Angle() float64                                                    { return 0 }    // rad in [0, 4π)
func (e *Engine) CylinderAngle(cyl int) float64                                     { return 0 }    // rad after its compression TDC, in [-2π, 2π)
func (e *Engine) Speed() float64                                                    { return 0 }    // rad/s, signed
func (e *Engine) AtRest() bool                                                      { return true } // crank and starter at rest
func (e *Engine) Current() float64                                                  { return 0 }    // starter A
func (e *Engine) Voltage() float64                                                  { return 0 }    // at the battery posts, V
func (e *Engine) Pressure(cyl int) float64                                          { return 0 }    // Pa abs
func (e *Engine) Temperature(cyl int) float64                                       { return 0 }    // K
func (e *Engine) Volume(cyl int) float64                                            { return 0 }    // m³
func (e *Engine) PistonTravel(cyl int) float64                                      { return 0 }    // 0 at TDC, 1 at BDC
func (e *Engine) ValveLift(cyl int) (in, ex float64)                                { return 0, 0 } // m
func (e *Engine) LeakFlow(cyl int) (rings, intakeSeat, exhaustSeat, gasket float64) { return }      // kg/s out of the cylinder
func (e *Engine) PlugFlow(cyl int) float64                                          { return 0 }    // kg/s out of the open plug hole
func (e *Engine) GasTorque(cyl int) float64                                         { return 0 }    // N·m on the crank
func (e *Engine) OilOnPiston(cyl int) float64                                       { return 0 }    // m³
func (e *Engine) HosePressure() float64                                             { return 0 }    // Pa abs
func (e *Engine) PlenumPressure() float64                                           { return 0 }    // Pa abs
func (e *Engine) Coolant() float64                                                  { return 0 }    // K
func (e *Engine) Charge() float64                                                   { return 0 }    // battery 0..1
func (e *Engine) Hydrolocked() bool                                                 { return false }
func (e *Engine) Digest() uint64                                                    { return 0 } // over the bits of the whole state
