//go:build !js

package policy

// may lists, for each package, what it may import besides the standard library.
// Paths without a dot in the first element are ours. "x/..." stands for x and
// everything below it. A package without an entry fails.
//
// Imports go down only: unit, num, record (leaves), then the engine, instruments,
// bench, scenarios, attempts, and commands and page on top. The grader sees what
// was done and read, never the engine behind it.
var may = map[string][]string{
	"sim/unit":       {},
	"sim/num":        {},
	"sim/record":     {},
	"sim":            {"sim/num", "sim/unit"},
	"sim/instrument": {"sim", "sim/num", "sim/record", "sim/unit"},
	"sim/bench":      {"sim", "sim/instrument", "sim/num", "sim/record", "sim/unit"},
	"sim/simtest":    {"github.com/stretchr/testify/require"},

	"diagnose":         {"sim/num", "sim/record", "sim/unit"},
	"diagnose/intake":  {"diagnose", "sim/unit"},
	"diagnose/library": {"sim/num"},
	"diagnose/reason":  {"diagnose", "diagnose/library", "sim/num", "sim/unit"},
	"diagnose/opinion": {"diagnose", "diagnose/intake", "diagnose/library", "diagnose/reason", "sim/num", "sim/unit"},
	"diagnose/report":  {"diagnose", "sim/num", "sim/record", "sim/unit"},

	"scenarios/strict":         {},
	"scenarios":                {"diagnose", "scenarios/strict", "sim", "sim/bench", "sim/instrument", "sim/num", "sim/record", "sim/unit"},
	"scenarios/attempt":        {"diagnose", "scenarios", "scenarios/strict", "sim", "sim/bench", "sim/instrument", "sim/num", "sim/record", "sim/unit"},
	"scenarios/attempt/script": {"diagnose", "scenarios", "scenarios/attempt", "sim/bench", "sim/record"},
	"scenarios/book":           {"diagnose", "scenarios", "scenarios/attempt", "sim", "sim/bench", "sim/instrument", "sim/num", "sim/record", "sim/unit"},
	"scenarios/collect":        {"diagnose", "scenarios", "scenarios/attempt", "scenarios/class", "scenarios/code", "sim/bench"},
	"scenarios/debrief":        {"diagnose", "scenarios", "scenarios/attempt", "scenarios/book", "sim", "sim/bench", "sim/instrument", "sim/num", "sim/record", "sim/unit"},
	"scenarios/class":          {"diagnose", "scenarios", "scenarios/attempt", "scenarios/book", "scenarios/code", "scenarios/strict", "sim/num"},
	"scenarios/code":           {"scenarios", "scenarios/attempt", "scenarios/strict", "sim/bench", "sim/record"},
	"scenarios/coach":          {"diagnose", "scenarios", "scenarios/attempt", "sim/bench", "sim/record", "sim/unit"},

	"scenarios/seal": {},

	"web/wire":        {},
	"web/plan":        {"web/wire"},
	"web/strings":     {},
	"web/site":        {},
	"web/e2e":         {},
	"web/sound":       {"sim", "sim/num", "sim/unit", "web/wire"},
	"web/session":     {"diagnose", "scenarios/...", "sim/...", "web/sound", "web/wire"},
	"web/answer":      {},
	"web/desk":        {"diagnose/...", "scenarios/...", "sim/...", "web/answer"},
	"web/opinion":     {"diagnose/...", "web/answer"},
	"web/jsapi/core":  {"web/session", "web/sound", "web/wire"},
	"web/jsapi/desk":  {"web/answer"},
	"web/benchview":   {"github.com/hajimehoshi/ebiten/v2/...", "golang.org/x/image/...", "web/plan", "web/wire"},
	"web/jsapi/scene": {"web/benchview", "web/plan", "web/wire"},
	"web/pack":        {"github.com/evanw/esbuild/pkg/api"},
	"web/pack/mksite": {"web/pack"},

	"cmd/crankbay":                    {"cmd/crankbay/internal/cli"},
	"cmd/crankbay/internal/cli":       {"cmd/crankbay/internal/library", "cmd/crankbay/internal/plots", "cmd/crankbay/internal/trace", "diagnose/...", "github.com/spf13/cobra", "scenarios/...", "sim/...", "web/pack/lms", "web/site", "web/strings/words"},
	"cmd/crankbay/internal/guide":     {"cmd/crankbay/internal/pagewords", "diagnose", "scenarios/...", "sim/unit", "web/strings", "web/strings/words"},
	"cmd/crankbay/internal/pagewords": {"web/strings"},
	"cmd/crankbay/internal/model":     {"cmd/crankbay/internal/pagewords", "cmd/crankbay/internal/plots", "sim", "sim/simtest", "sim/unit", "web/strings"},
	"cmd/crankbay/internal/plots":     {"cmd/crankbay/internal/trace", "golang.org/x/image/...", "gonum.org/v1/plot/...", "scenarios/...", "sim/record", "sim/unit"},
	"cmd/crankbay/internal/trace":     {"scenarios/...", "sim/..."},
	"cmd/crankbay/modelpage":          {"cmd/crankbay/internal/guide", "cmd/crankbay/internal/model"},
	"cmd/crankbay/internal/library":   {"diagnose/library"},
	"cmd/libgen":                      {"cmd/libgen/internal/...", "diagnose/...", "github.com/spf13/cobra", "gonum.org/v1/gonum/stat/...", "scenarios/...", "sim", "sim/unit"},
	"cmd/libgen/internal/evaluate":    {"cmd/libgen/internal/population", "diagnose/...", "gonum.org/v1/gonum/stat", "sim/unit"},
	"cmd/libgen/internal/population":  {"diagnose/library", "diagnose/reason", "scenarios/...", "sim/bench", "sim/record", "sim/unit"},
	"cmd/webcore":                     {"web/jsapi/core", "web/session"},
	"cmd/webdesk":                     {"web/desk", "web/jsapi/desk"},
	"cmd/webopinion":                  {"web/jsapi/desk", "web/opinion"},
	"cmd/webwhole":                    {"web/desk", "web/jsapi/core", "web/jsapi/desk", "web/opinion", "web/session"},
	"cmd/webbench":                    {"web/benchview", "web/jsapi/scene", "web/plan", "web/wire"},
	"cmd/wasmchrome":                  {"github.com/chromedp/chromedp"},
	"cmd/crosscheck":                  {"sim"},
	"cmd/policy":                      {},
	"web/jsapi/seal":                  {"scenarios/seal"},
	"cmd/webseal":                     {"web/jsapi/seal"},
	"scenarios/code/qr":               {"rsc.io/qr/coding"},
	"scenarios/compose":               {"diagnose", "diagnose/library", "diagnose/reason", "scenarios", "scenarios/book", "sim/unit"},
	"web/strings/words":               {"web/strings"},
	"web/pack/lms":                    {"scenarios", "scenarios/code"},
}

// testsMay lists what tests may import beyond what their package may. Every
// test may use testify and sim/simtest.
var testsMay = map[string][]string{
	"sim":                           {"gonum.org/v1/gonum/...", "sim/instrument"},
	"sim/num":                       {"gonum.org/v1/gonum/..."},
	"sim/instrument":                {"gonum.org/v1/gonum/..."},
	"sim/bench":                     {"gonum.org/v1/gonum/..."},
	"scenarios":                     {"github.com/santhosh-tekuri/jsonschema/v6", "scenarios/attempt", "scenarios/book"},
	"scenarios/attempt":             {"scenarios/attempt/script", "scenarios/book"},
	"scenarios/code":                {"scenarios/attempt/script"},
	"scenarios/collect":             {"diagnose/library", "diagnose/reason", "scenarios/attempt/script", "sim", "sim/record"},
	"scenarios/debrief":             {"scenarios/attempt/script"},
	"scenarios/seal":                {"scenarios/code"},
	"web/desk":                      {"scenarios/attempt/script"},
	"web/session":                   {"web/strings"},
	"web/jsapi/scene":               {"github.com/hajimehoshi/ebiten/v2"},
	"web/jsapi/desk":                {"web/desk"},
	"web/strings":                   {"diagnose/...", "scenarios/...", "sim/...", "web/session"},
	"web/e2e":                       {"diagnose/...", "github.com/chromedp/...", "github.com/coder/websocket", "scenarios/...", "web/pack/lms", "web/site", "web/wire"},
	"cmd/crankbay":                  {"diagnose/...", "github.com/rogpeppe/go-internal/testscript", "scenarios/..."},
	"cmd/crankbay/internal/cli":     {"github.com/rogpeppe/go-internal/testscript"},
	"cmd/crankbay/internal/guide":   {"cmd/crankbay/internal/cli"},
	"cmd/crankbay/internal/library": {"diagnose/reason", "scenarios/attempt", "sim"},
}

// everyTestMay holds for the tests of all packages.
var everyTestMay = []string{"github.com/stretchr/testify/assert", "github.com/stretchr/testify/require", "sim/simtest"}

// outside are packages in the rooms of the core that no grade depends on: helpers of
// tests, and what seals hand-ins with keys made by chance.
var outside = []string{"sim/simtest", "scenarios/seal", "scenarios/code/qr"}

// core are the packages whose results a grade depends on: they must give the
// same bits on every machine and at every time of day. sim/simtest is left out
// because it only serves tests.
var core = []string{
	"sim", "sim/unit", "sim/num", "sim/record", "sim/instrument", "sim/bench",
	"diagnose", "diagnose/intake", "diagnose/library", "diagnose/opinion", "diagnose/reason", "diagnose/report",
	"scenarios", "scenarios/strict", "scenarios/attempt", "scenarios/attempt/script",
	"scenarios/book", "scenarios/class", "scenarios/coach", "scenarios/code", "scenarios/collect", "scenarios/compose", "scenarios/debrief",
}

// coreStandard is the part of the standard library that core packages may use.
// What is missing is missing on purpose: clocks, disks, networks, locks, random
// sources, the JavaScript bridge, maps in whatever order they like, logs.
var coreStandard = map[string]bool{
	"bytes": true, "cmp": true, "crypto/hmac": true, "crypto/sha256": true, "embed": true, "encoding/base64": true, "encoding/binary": true,
	"encoding/csv": true, "encoding/hex": true, "encoding/json": true, "errors": true, "fmt": true, "hash": true,
	"hash/fnv": true, "io": true, "io/fs": true, "math": true, "math/bits": true, "regexp": true, "slices": true,
	"sort": true, "strconv": true, "strings": true, "unicode": true, "unicode/utf16": true, "unicode/utf8": true,
}

// exactMath are the functions of package math whose result is defined to the
// last bit. For the others sim/num has replacements, or there is none.
var exactMath = map[string]bool{
	"Abs": true, "Ceil": true, "Copysign": true, "Float64bits": true, "Float64frombits": true,
	"Floor": true, "Frexp": true, "Inf": true, "IsInf": true, "IsNaN": true, "Ldexp": true,
	"Max": true, "Min": true, "Mod": true, "Modf": true, "NaN": true, "Nextafter": true,
	"Round": true, "RoundToEven": true, "Signbit": true, "Sqrt": true, "Trunc": true,
}

// topLevel are the names allowed at the root of the tree, besides names that
// begin with a dot.
var topLevel = map[string]bool{
	"cmd": true, "sim": true, "diagnose": true, "scenarios": true, "web": true, "testdata": true,
	"README.md": true, "DEVELOPERS.md": true, "go.mod": true, "go.sum": true, "Makefile": true, "LICENSE": true,
}

// bareFile is of no platform: by its tag a program is built without the catalogue in
// it, and handed the same files when it starts.
const bareFile = "catalogue_bare.go"

// LongestFunction is the most lines a function may have: a screen full. Tests
// are exempt, because most of a long test is its table.
const LongestFunction = 70
