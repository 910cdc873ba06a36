package scenarios_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
)

// At least three engines contradict the common card: never the key, only the key,
// room temperature; and one asks for the pedal.
func TestCardsContradictEachOther(t *testing.T) {
	common := diagnose.DefaultCard()
	never, only, cool, pedal := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range scenarios.Catalogue() {
		e, c := s.Engine, s.Card
		if e.Key == "fires" {
			never[e.ID] = true
			assert.Equal(t, diagnose.SwitchRemote, c.Switch, s.ID)
		}
		if c.Switch == diagnose.SwitchKey {
			only[e.ID] = true
		}
		if c.CoolantMaxC < common.CoolantMinC-40 && !s.Conditions.NoStart {
			cool[e.ID] = true
			assert.NotContains(t, c.Items, "warm", s.ID)
		}
		if c.ThrottleBy == diagnose.ThrottlePedal {
			pedal[e.ID] = true
		}
	}
	assert.Len(t, never, 1)
	assert.Len(t, only, 2)
	assert.Len(t, cool, 1)
	assert.Len(t, pedal, 4)
}

// A card that can't be followed on its engine, or that harms it, is refused.
func TestCardAndEngineAgree(t *testing.T) {
	for _, c := range []struct{ id, old, new, want string }{
		{"key", `"switch": "remote"`, `"switch": "key"`, `card.switch: "key", the key fires the injectors of this engine`},
		{"key", `"switch": "remote"`, `"switch": "either"`, `card.switch: "either", the key fires the injectors of this engine`},
		{"valves", `"switch": "key"`, `"switch": "remote"`, `card.switch: "remote", engine.key "valves" needs the key`},
		{"service", `"switch": "key"`, `"switch": "either"`, `card.switch: "either", engine.key "service_mode" needs the key`},
		{"key", `"throttle_by": "pedal"`, `"throttle_by": "linkage"`, `card.throttle_by: "linkage", engine.drive_by_wire is true`},
		{"plain", `"throttle_open": true`, `"throttle_open": true, "throttle_by": "pedal"`, `card.throttle_by: "pedal", engine.drive_by_wire is false`},
		{"cool", `"coolant_max_c": 35`, `"coolant_max_c": 100`, `card.coolant_max_c: 100, engine.threads_max_c is 35`},
		{"plain", `"parked_deg": 100`, `"parked_deg": 100, "no_start": true`, `card.coolant_min_c: 60, an engine that doesn't start stays at 20`},
		{"key", `"key": "fires"`, `"key": "sparks"`, `engine.key: "sparks", want one of`},
	} {
		whole := ""
		for _, s := range scenarios.Catalogue() {
			e := s.Engine
			if map[string]bool{"key": e.Key == "fires", "valves": e.Key == "valves", "service": e.Key == "service_mode",
				"plain": s.ID == "sound-inline-four", "cool": e.ThreadsMaxC > 0}[c.id] {
				whole = file(t, s.ID)
			}
		}
		require.Contains(t, whole, c.old, c.id)
		_, err := scenarios.Decode([]byte(strings.Replace(whole, c.old, c.new, 1)))
		assert.ErrorContains(t, err, c.want)
	}
}
