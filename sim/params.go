package sim

// MaxCylinders bounds the size of an engine.
const MaxCylinders = 12

// Params describes one engine with its faults, battery, starter and gauge, in SI
// units throughout. Start from Reference and change fields; New rejects a value
// outside the range in brackets, ends included. A fault is a change of a number in here.
type Params struct {
	Cylinders   int     // [1, 12]
	Bore        float64 // cylinder diameter [m]             [0.03, 0.2]
	Stroke      float64 // piston travel [m]                 [0.03, 0.2]
	Rod         float64 // centre to centre [m]              [0.05, 0.4]
	PinOffset   float64 // towards the thrust side [m]       [-0.005, 0.005]
	Compression float64 // geometric ratio, plugs in [-]     [4, 25]

	Cylinder [MaxCylinders]CylinderParams

	Intake  ValveParams
	Exhaust ValveParams

	PlenumVolume  float64 // manifold behind the plate [m³]                   [2e-4, 2e-2]
	ThrottleArea  float64 // effective area of the open plate Cd·A [m²]       [1e-5, 1e-2]
	IdleArea      float64 // effective area past the closed plate Cd·A [m²]   [1e-7, 1e-3]
	PlugHoleArea  float64 // effective area of an open plug hole Cd·A [m²]    [1e-5, 1e-3]
	ExhaustVolume float64 // manifold and pipe up to the restriction [m³]     [2e-4, 5e-2]
	FiredExhaust  float64 // temperature of what fired cylinders push past a restriction while driven [K], at idle 900 to 1100 (from memory); 0: as it is [0, 1500]
	ExhaustOutlet float64 // Cd·A of the way out [m²]; 0: so wide that it is ambient [0, 1e-2]
	Recess        float64 // gap between piston at TDC and a valve on its seat [m]; 0: they never touch [0, 0.02]

	Release ReleaseParams

	Rings   RingParams
	Heat    HeatParams
	Crank   CrankParams
	Battery BatteryParams
	Starter StarterParams
	Gauge   GaugeParams

	Ambient            float64 // absolute pressure [Pa]      [4e4, 1.2e5]
	AmbientTemperature float64 // [K]                         [230, 330]
	CoolantTemperature float64 // block, oil and wall [K]     [230, 400]
}

// CylinderParams is what may differ from cylinder to cylinder. Areas are
// effective, Cd·A.
type CylinderParams struct {
	Bank            int     // 0 or 1
	FiringAngle     float64 // crank angle of its compression TDC [rad]             [0, 4π]
	RingArea        float64 // past the rings with their normal film [m²]           [0, 1e-4]
	PistonArea      float64 // past or through the piston where no oil seals [m²]   [0, 5e-4]
	IntakeSeatArea  float64 // past the shut intake valves [m²]                     [0, 5e-4]
	ExhaustSeatArea float64 // past the shut exhaust valves [m²]                    [0, 5e-4]
	FlakeArea       float64 // past an exhaust seat that a flake of carbon holds open, until the engine has run [m²] [0, 5e-4]
	IntakeLift      float64 // share of the cam's lift that arrives [-]             [0, 1]
	ExhaustLift     float64 // share of the cam's lift that arrives [-]             [0, 1]
	IntakeLash      float64 // clearance over (+) or under (-) specification [m]    [-0.002, 0.005]
	ExhaustLash     float64 // clearance over (+) or under (-) specification [m]    [-0.002, 0.005]
	Spring          float64 // valve spring force ÷ when new [-]                    [0.02, 1]
	IntakeShift     float64 // intake cam late (+) or early (-) [rad of crank]      [-2, 2]
	ExhaustShift    float64 // exhaust cam late (+) or early (-) [rad of crank]     [-2, 2]
	Deposit         float64 // carbon in the chamber [m³]                           [0, 1e-4]
	Liquid          float64 // fuel or coolant lying on the piston [m³]        [0, 5e-4]
	Dryness         float64 // share of the film that turning can't rebuild until oil or a run does [-] [0, 1]
	GasketTo        int     // neighbour it leaks to, numbered from 1; 0 none
	GasketArea      float64 // of that path [m²]                                    [0, 5e-4]
	CoolantArea     float64 // to the water jacket [m²]                             [0, 5e-4]
	OutsideArea     float64 // past gasket or head to the open air [m²]             [0, 5e-4]
}

// ReleaseParams is a cam that holds the exhaust valve off its seat while the
// engine turns slowly, so that it can be pulled over by hand.
type ReleaseParams struct {
	Lift  float64 // [m]; 0 none                                  [0, 0.005]
	From  float64 // crank angle after compression TDC [rad]      [-2π, 2π]
	To    float64 // crank angle after compression TDC [rad]      [-2π, 2π]
	Below float64 // crank speed under which it works [rad/s]     [0, 500]
}

// ValveParams is one cam and its valves. Angles are crank angles in rad after
// the compression TDC of the cylinder at which the lift is EventLift, Opens below
// Closes: an intake that opens 10° BTDC and closes 50° ABDC has 350° and 590°, an
// exhaust that opens 50° BBDC and closes 10° ATDC has 130° and 370°.
type ValveParams struct {
	Count    int     // valves per cylinder                   [1, 3]
	Diameter float64 // inner seat diameter of one valve [m]  [0.01, 0.08]
	Lift     float64 // maximum lift [m]                      [0.003, 0.02]
	Opens    float64 // [rad]                                [0, 4π]
	Closes   float64 // [rad]                                [Opens, Opens+2π]
}

// RingParams is the oil film of the ring pack, alike for all cylinders.
type RingParams struct {
	DryFactor   float64 // leak area with no film ÷ with the normal film [-]   [1, 10]
	OiledFactor float64 // leak area drowned in oil ÷ with the normal film [-] [0, 1]
	DrainTime   float64 // standing time in which the film of a ring pack that leaks 1 mm² falls to 1/e [s] [1, 1e6]
	BuildAngle  float64 // crank travel in which turning rebuilds it [rad]     [1, 1e4]
	ScrapeAngle float64 // crank travel in which extra oil is scraped off [rad][1, 1e4]
	PassTime    float64 // standing time in which chamber oil runs down [s]    [1, 1e6]
	PassAngle   float64 // crank travel in which chamber oil is lost [rad]     [1, 1e4]
}

// HeatParams scales the wall heat loss.
type HeatParams struct {
	Factor float64 // multiplies the Hohenberg coefficient, one for all engines [0, 10]

	Manifold float64 // conductance from warm manifold to plenum gas [W/K] [0, 50]
}

// CrankParams is what turns.
type CrankParams struct {
	Inertia      float64 // crank, flywheel, half the rods [kg·m²]       [0.001, 5]
	FrictionMEP  float64 // with SAE 30 oil at 90 °C and 21 rad/s, friction mean effective pressure [Pa] [1e3, 1e6]
	OilGradeHot  float64 // kinematic viscosity at 100 °C [m²/s]          [3e-6, 3e-5]
	OilGradeCold float64 // kinematic viscosity at 40 °C [m²/s]           [1e-5, 3e-4]
	Start        float64 // where the crank is parked [rad]              [0, 4π]
}

// BatteryParams is a lead-acid starting battery of six cells.
type BatteryParams struct {
	CCA         float64 // cold cranking current, SAE J537 [A]       [50, 2000]
	Charge      float64 // state of charge [-]                       [0, 1]
	AgeFactor   float64 // resistance ÷ resistance when new [-]      [0.5, 20]
	Capacity    float64 // [C]                                       [1e4, 1e6]
	Cable       float64 // live cable and its joints [Ω]             [0, 0.2]
	Ground      float64 // ground strap and its joints [Ω]           [0, 0.2]
	ChargerAmps float64 // what a connected charger delivers [A]     [0, 100]
}

// StarterParams is a permanent-magnet starter through its gears, seen at the crank.
type StarterParams struct {
	Resistance float64 // armature and brushes [Ω]                         [1e-3, 0.1]
	Inductance float64 // of the windings [H]                              [1e-6, 1e-2]
	Constant   float64 // torque per ampere = volt per rad/s, at the pinion [N·m/A] [1e-3, 1]
	Ratio      float64 // ring gear ÷ pinion [-]                            [2, 30]
	Saturation float64 // current at which armature reaction has halved Constant [A] [50, 1e5]
	Drag       float64 // torque lost in the starter, at the pinion [N·m]   [0, 20]
	Windage    float64 // more torque lost per speed² at the pinion [N·m·s²] [0, 1e-2]
	Inertia    float64 // armature seen at the crank [kg·m²]                [0, 5]
	PullIn     float64 // switch to current through the motor [s]           [0, 0.5]
}

// GaugeParams is the gauge's plumbing. Needle and scale are sim/instrument's.
type GaugeParams struct {
	HoseVolume      float64 // from tip valve to Bourdon tube [m³]            [1e-8, 1e-4]
	AdapterVolume   float64 // from plug hole to tip valve, over the plug's own [m³] [0, 2e-5]
	ValveArea       float64 // Cd·A of the open tip valve [m²]                [1e-8, 1e-4]
	ValveOpening    float64 // pressure difference that lifts it [Pa]         [0, 5e5]
	ValveLeak       float64 // Cd·A back through the shut tip valve [m²]      [0, 1e-5]
	ReleaseArea     float64 // Cd·A of the pressed release [m²]               [1e-8, 1e-4]
	ReleaseLeak     float64 // Cd·A of the release at rest [m²]               [0, 1e-5]
	SealLeak        float64 // Cd·A past the adapter's O-ring [m²]            [0, 1e-4]
	HoseConductance float64 // from hose gas to hose wall [W/K]             [0, 10]
}
