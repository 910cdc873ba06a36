package intake

import (
	"strings"

	"crankbay/diagnose"
)

// A field is one thing that can be said.
type field struct {
	name   string  // ours; for conditions and figures also what a Said is called
	kind   int     // how its value is written
	each   bool    // about one cylinder; some are about the whole engine when no cylinder is named
	whole  bool    // about the whole engine
	low    float64 // what an engine or a tool can give, in SI
	high   float64
	cell   func(*Cylinder) **float64 // where it goes
	engine func(*Engine) **float64
	names  string // how it is called, parted by bars: lower case, without accents, brackets, hyphens and underlines
}

// Kinds of value beyond those that units are of.
const (
	kindWords    = 100 + iota // places, read by heard
	kindCount                 // a whole number
	kindCylinder              // the number of a cylinder
	kindBank
	kindBore   // what a borescope shows
	kindDead   // whether a cylinder pulls when the engine runs
	kindAnswer // yes, no or not known, in the words of the field
	kindOrder  // a firing order
	kindBanks  // banks of all cylinders
	kindLayout
	kindUnit
	kindStated
	kindHistory
	kindRemark // of no use here
)

// Bounds of what can be read, in SI. Beyond a boosted racing engine no gasoline
// engine cranks to 3 MPa; a diesel can, and is another job. The others are the ends
// of the tools' scales or of what starters and roads do (common practice, no
// source).
const (
	pressureMost = 3e6
	suctionMost  = 1.05e5
	speedLeast   = 20
	speedMost    = 2000
)

// fields lists everything that can be said. What comes first wins where names
// begin alike: names are looked up whole.
func fields() []field {
	return append(append(pressureFields(), otherFields()...), engineFields()...)
}

func pressureFields() []field {
	p := func(name string, cell func(*Cylinder) **float64, names string) field {
		return field{name: name, kind: ofPressure, each: true, low: 0, high: pressureMost, cell: cell, names: names}
	}
	return []field{
		p("dry", func(c *Cylinder) **float64 { return &c.Dry },
			"dry|dry 1|run 1|prueba 1|dry last|dry final|dry reading|dry test|last|final|reading|readings|compression|result|pressure|last stroke|dry compression|compression dry|"+
				"seco|en seco|seca|lectura|lecturas|compresion|compresion en seco|compresion seco|final seco|seco final|ultima|ultimo|presion|resultado|prueba en seco|sin aceite"),
		p("first", func(c *Cylinder) **float64 { return &c.First },
			"first|first stroke|dry first|1st|1st stroke|first puff|first reading|first dry|primera|primero|primer golpe|primera lectura|primera compresion|primera carrera|seco primero|seco primera"),
		p("wet", func(c *Cylinder) **float64 { return &c.Wet },
			"wet|wet last|wet final|wet reading|wet test|oil|with oil|oiled|after oil|compression wet|wet compression|"+
				"humedo|humeda|mojado|mojada|con aceite|aceite|en humedo|compresion humeda|compresion con aceite|prueba humeda|humedo final"),
		p("wet_first", func(c *Cylinder) **float64 { return &c.WetFirst },
			"wet first|wet 1st|first wet|wet first stroke|humedo primero|humeda primera|primera humeda|primera con aceite"),
		p("repeat", nil, "repeat|repeated|again|second run|run 2|run 3|retest|re test|dry 2|dry 3|repeticion|repetida|repetido|otra vez|segunda prueba|segunda vez|repeat last"),
		p("second", func(c *Cylinder) **float64 { return &c.Second },
			"second gauge|other gauge|gauge 2|second last|second|segundo manometro|otro manometro|manometro 2"),
		p("refit", func(c *Cylinder) **float64 { return &c.Refit },
			"refit|refitted|neighbor plug in|neighbour plug in|plug refitted|refit last|bujia vecina puesta|vecina puesta|con bujia vecina"),
		p("idle", func(c *Cylinder) **float64 { return &c.Idle },
			"idle|running idle|running|running compression|run idle|ralenti|en ralenti|en marcha|compresion en marcha"),
		p("snap", func(c *Cylinder) **float64 { return &c.Snap },
			"snap|running snap|snap throttle|run snap|aceleron|golpe de acelerador|acelerada"),
	}
}

func otherFields() []field {
	return []field{
		{name: "cylinder", kind: kindCylinder, each: true, names: "cylinder|cyl|cylinders|cyls|cyl no|cylinder no|cylinder number|no|number|n|nr|num|nº|n°|#|cilindro|cilindros|cil|cils|cilindro no|numero"},
		{name: "unit", kind: kindUnit, each: true, names: "unit|units|unidad|unidades"},
		{name: "bank", kind: kindBank, each: true, names: "bank|side|bancada|banco|bancos|lado"},
		{name: "leakage_percent", kind: ofPercent, each: true, low: 0, high: 100, cell: func(c *Cylinder) **float64 { return &c.Leakage },
			names: "leakage percent|leakage|leak|leakdown|leak down|leakage %|leak %|leakage pct|leakdown %|leak down %|fuga|fugas|fuga %|fugas %|porcentaje de fuga|fuga porcentaje|perdida|estanqueidad"},
		{name: "heard", kind: kindWords, each: true, names: "heard|heard at|air at|air|place|where|where heard|leak at|leaks to|oido|se oye|se oye en|aire|aire en|donde|sale por"},
		{name: "hump_percent", kind: ofPercent, each: true, low: 0, high: 400, cell: func(c *Cylinder) **float64 { return &c.Hump },
			names: "hump percent|hump|current|current percent|relative|relative compression|starter current|joroba|corriente|relativa|compresion relativa"},
		{name: "strokes", kind: kindCount, each: true, whole: true, low: 1, high: 60, cell: func(c *Cylinder) **float64 { return &c.Count },
			names: "strokes|stroke count|puffs|compressions|revolutions|turns|golpes|carreras|compresiones|vueltas"},
		{name: "lash_intake", kind: ofLength, each: true, low: 0, high: 5, cell: func(c *Cylinder) **float64 { return &c.LashIn },
			names: "lash intake|intake lash|intake clearance|holgura admision|juego admision|luz admision"},
		{name: "lash_exhaust", kind: ofLength, each: true, low: 0, high: 5, cell: func(c *Cylinder) **float64 { return &c.LashEx },
			names: "lash exhaust|exhaust lash|exhaust clearance|holgura escape|juego escape|luz escape"},
		{name: "bore", kind: kindBore, each: true, names: "bore|borescope|camera|boroscopio|camara"},
		{name: "dead", kind: kindDead, each: true, names: "dead|power balance|balance|dead cylinder|muerto|balance de potencia"},
		{name: "rpm", kind: ofSpeed, each: true, whole: true, low: speedLeast, high: speedMost,
			cell: func(c *Cylinder) **float64 { return &c.SpeedRPM }, engine: func(e *Engine) **float64 { return &e.SpeedRPM },
			names: "rpm|speed|cranking speed|cranking rpm|crank speed|velocidad|revoluciones|velocidad de arranque"},
		{name: "volts", kind: ofVoltage, each: true, whole: true, low: 3, high: 60,
			cell: func(c *Cylinder) **float64 { return &c.BatteryV }, engine: func(e *Engine) **float64 { return &e.BatteryV },
			names: "volts|voltage|battery|battery v|battery volts|battery min v|bateria|voltaje|voltios"},
		{name: "note", kind: kindRemark, each: true, whole: true, names: "note|notes|remark|remarks|comment|comments|date|name|engine|vehicle|mileage|miles|km run|gauge|by|customer|plate|" +
			"nota|notas|comentario|comentarios|observaciones|fecha|nombre|motor|vehiculo|kilometraje|manometro|cliente|placa"},
	}
}

func engineFields() []field {
	f := func(name string, kind int, low, high float64, engine func(*Engine) **float64, names string) field {
		return field{name: name, kind: kind, whole: true, low: low, high: high, engine: engine, names: names}
	}
	return []field{
		f("minimum", ofPressure, 1e5, pressureMost, func(e *Engine) **float64 { return &e.Minimum }, "minimum|min|limit|minimo|spec min|minimum compression|minima|limite|especificacion minima"),
		f("standard", ofPressure, 2e5, pressureMost, func(e *Engine) **float64 { return &e.Standard }, "standard|spec|specification|normal|book|nominal|new|estandar|especificacion|manual|nuevo"),
		f("difference", ofPressure, 1e4, 1e6, func(e *Engine) **float64 { return &e.Difference }, "difference|max difference|allowed difference|difference max|diferencia|diferencia maxima"),
		f("lash_intake_spec", ofLength, 0, 2, func(e *Engine) **float64 { return &e.LashInSpec }, "lash intake spec|intake lash spec|holgura admision especificada"),
		f("lash_exhaust_spec", ofLength, 0, 2, func(e *Engine) **float64 { return &e.LashExSpec }, "lash exhaust spec|exhaust lash spec|holgura escape especificada"),
		f("vacuum", ofSuction, 0, suctionMost, func(e *Engine) **float64 { return &e.Vacuum }, "vacuum|cranking vacuum|intake vacuum|vacio|vacio de arranque"),
		f("ratio", ofNothing, 4, 18, func(e *Engine) **float64 { return &e.Ratio }, "ratio|compression ratio|cr|relacion|relacion de compresion"),
		f("altitude", ofHeight, -430, 5500, func(e *Engine) **float64 { return &e.AltitudeM }, "altitude|altitude m|elevation|height|altitud|altura|elevacion"),
		f("coolant", ofTemperature, -40, 140, func(e *Engine) **float64 { return &e.CoolantC }, "coolant|coolant c|coolant temperature|temperature|temp|engine temperature|refrigerante|temperatura"),
		f("oil_ml", ofVolume, 0, 60, func(e *Engine) **float64 { return &e.OilML }, "oil ml|oil amount|cantidad de aceite|aceite ml"),
		f("timing_deg", ofAngle, -180, 180, func(e *Engine) **float64 { return &e.TimingDeg }, "timing deg|timing|cam timing|sincronizacion|distribucion"),
		f("layout", kindLayout, 0, 0, nil, "layout|disposicion|configuracion"),
		f("banks", kindBanks, 0, 0, nil, "banks|bank map|bancadas"),
		f("cylinders", kindCount, 1, MaxCylinders, nil, "cylinders|cylinder count|number of cylinders|cilindros|numero de cilindros"),
		f("firing-order", kindOrder, 0, 0, nil, "firing order|order|orden de encendido|encendido"),
		f("unit", kindUnit, 0, 0, nil, "unit|units|unidad|unidades"),
		f("throttle", kindAnswer, 0, 0, nil, "throttle|acelerador|mariposa"),
		f("warm", kindAnswer, 0, 0, nil, "warm|motor caliente|caliente"),
		f("plugs", kindAnswer, 0, 0, nil, "plugs|spark plugs|plugs out|bujias"),
		f("equal", kindAnswer, 0, 0, nil, "equal strokes|same strokes|strokes equal|mismos golpes|golpes iguales"),
		f("cooling", kindAnswer, 0, 0, nil, "cooling|cooling system|cooling pressure|sistema de enfriamiento"),
		f("two-stroke", kindAnswer, 0, 0, nil, "two stroke|2 stroke|dos tiempos|2 tiempos"),
		f("stated", kindStated, 0, 0, nil, "stated|conditions|condiciones"),
		f("history", kindHistory, 0, 0, nil, "history|complaint|symptoms|historia|queja|sintomas|historial"),
	}
}

// Names of fields that can be about a cylinder, and about the whole engine.
var ofEach, ofWhole = index()

func index() (each, whole map[string]*field) {
	each, whole = map[string]*field{}, map[string]*field{}
	all := fields()
	put := func(m map[string]*field, name string, f *field) {
		if m[name] == nil {
			m[name] = f
		}
	}
	for i := range all {
		f := &all[i]
		for _, n := range append(strings.Split(f.names, "|"), f.name) {
			if f.each {
				put(each, n, f)
			}
			if f.whole {
				put(whole, n, f)
			}
		}
	}
	return each, whole
}

// named finds a field by its name in the text; nil when there is none. whole asks for
// those that can be about the whole engine, else for those about a cylinder.
func named(text string, whole bool) *field {
	if whole {
		return ofWhole[text]
	}
	return ofEach[text]
}

// places lists how the places are called where air is heard.
func places() []struct{ place, names string } {
	return []struct{ place, names string }{
		{diagnose.HeardThrottle, "throttle|intake|carb|carburetor|carburettor|air filter|intake manifold|manifold|admision|mariposa|carburador|filtro de aire|acelerador|cuerpo de aceleracion"},
		{diagnose.HeardTailpipe, "tailpipe|exhaust|exhaust pipe|muffler|escape|tubo de escape|mofle"},
		{diagnose.HeardFiller, "oil filler|oil|oil cap|crankcase|dipstick|breather|pcv|filler|aceite|tapon de aceite|carter|varilla|respiradero"},
		{diagnose.HeardNeck, "coolant neck|coolant|radiator|bubbles|water|refrigerante|radiador|burbujas|agua|cuello del radiador"},
		{diagnose.HeardNeighbour, "neighbour|neighbor|next cylinder|plug hole|neighbor plug hole|neighbour plug hole|other cylinder|vecino|cilindro vecino|agujero de bujia|bujia vecina"},
		{diagnose.HeardEdge, "gasket edge|gasket|outside|edge|head joint|borde del empaque|empaque|junta|afuera|por fuera"},
		{diagnose.HeardNowhere, "nowhere|none|nothing|no|no leak|ninguno|nada|ninguna parte|ningun lado"},
	}
}
