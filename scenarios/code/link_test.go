package code_test

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/code"
)

func TestALinkCarriesAnyScenario(t *testing.T) {
	longest := 0
	for _, s := range scenarios.Catalogue() {
		a := &code.Assignment{Scenario: s, Mode: "grade", Who: "María Núñez", Class: "Auto 2, fall", Seal: strings.Repeat("k3Y_", 11)}
		link, err := a.Link()
		require.NoError(t, err)
		longest = max(longest, len(link))
		back, err := code.ReadLink(link)
		require.NoError(t, err)
		assert.Equal(t, a, back)
		assert.Regexp(t, `^job1\.[A-Za-z0-9_-]+$`, link, "nothing that mail or chat would cut or change")
	}
	t.Logf("longest link of the catalogue: %d characters", longest)
	assert.Less(t, longest, 1500)
}

func TestALinkIsFoundInWhatArrives(t *testing.T) {
	a := &code.Assignment{Scenario: scenarios.Find("sound-single")}
	link, err := a.Link()
	require.NoError(t, err)
	for _, text := range []string{
		link, "#" + link, "https://school.example/bay/index.html?lang=es#" + link, "<https://school.example/#" + link + ">",
		" " + link + ".\r\n", "https://school.example/#" + link[:70] + "\r\n" + link[70:],
	} {
		back, err := code.ReadLink(text)
		require.NoError(t, err, text)
		assert.Equal(t, a, back)
	}
}

// Nobody reads a fault off a link, and not off its bytes either.
func TestALinkIsNotReadAtAGlance(t *testing.T) {
	one, err := (&code.Assignment{Scenario: scenarios.Find("gasket-inline-four"), Class: "gasket"}).Link()
	require.NoError(t, err)
	for _, word := range []string{"gasket", "Z2Fza2V0", "fault"} {
		assert.NotContains(t, one, word)
	}
	other, err := (&code.Assignment{Scenario: scenarios.Find("gasket-inline-four"), Class: "Gasket"}).Link()
	require.NoError(t, err)
	same := 0
	for i := range min(len(one), len(other)) {
		if one[i] == other[i] {
			same++
		}
	}
	assert.Less(t, same, len(one)/8, "another letter gives another link all over")
}

func TestDamageToALinkIsNoticed(t *testing.T) {
	whole, err := (&code.Assignment{Scenario: scenarios.Find("burnt-exhaust-v6"), Who: "A. Student"}).Link()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(5, 3))
	for range 40 {
		at := len(code.Fragment) + r.IntN(len(whole)-len(code.Fragment))
		other := string(whole[len(code.Fragment)+r.IntN(len(whole)-len(code.Fragment))])
		for _, bad := range []string{whole[:at] + other + whole[at+1:], whole[:at] + whole[at+1:], whole[:at] + other + whole[at:], whole[:at]} {
			if bad == whole || bad == whole[:len(whole)-1] && len(bad)%4 != 1 {
				continue
			}
			_, err := code.ReadLink(bad)
			if assert.Error(t, err, bad) {
				assert.Regexp(t, "^code: link: [^\n]+$", err.Error())
			}
		}
	}
	_, err = code.ReadLink(whole[:len(whole)/2])
	assert.ErrorContains(t, err, "cut short")
}

func TestALinkIsNotMadeOfNonsense(t *testing.T) {
	s := scenarios.Find("sound-single")
	for want, a := range map[string]*code.Assignment{
		"code: link: mode: ":           {Scenario: s, Mode: "easy"},
		"code: link: who: ":            {Scenario: s, Who: strings.Repeat("x", 101)},
		"code: link: class: ":          {Scenario: s, Class: strings.Repeat("x", 61)},
		"code: link: seal: ":           {Scenario: s, Seal: strings.Repeat("x", 101)},
		"code: link: scenario: engine": {Scenario: func() *scenarios.Scenario { c := *s; c.Engine.BoreMM = 0; return &c }()},
	} {
		_, err := a.Link()
		assert.ErrorContains(t, err, want)
	}
	r := rand.New(rand.NewPCG(1, 9))
	long := *s
	letters := make([]rune, 1200)
	for i := range letters {
		letters[i] = rune(0x4e00 + r.IntN(20000))
	}
	long.Complaint.EN, long.History.EN, long.Complaint.ES = string(letters), string(letters[600:])+string(letters[:600]), string(letters[1:])
	_, err := (&code.Assignment{Scenario: &long}).Link()
	if err != nil {
		assert.ErrorContains(t, err, "hand the scenario out as a file")
	}
}

// vectors holds damaged texts and codes of earlier days; both stay what they were.
func TestVectorsGiveTheirSentence(t *testing.T) {
	path := filepath.Join(testdata, "codes", "vectors.txt")
	table, err := os.ReadFile(path)
	require.NoError(t, err)
	for line := range strings.Lines(string(table)) {
		name, rest, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		text, want, found := strings.Cut(rest, "\t")
		require.True(t, found, line)
		t.Run(name, func(t *testing.T) {
			text := strings.NewReplacer(`\n`, "\n", `\t`, "\t").Replace(text)
			var err error
			if strings.HasPrefix(name, "link") {
				_, err = code.ReadLink(text)
			} else {
				_, err = code.Decode(text)
			}
			if want == "ok" {
				assert.NoError(t, err)
				return
			}
			assert.EqualError(t, err, want)
		})
	}
}

func FuzzReadLink(f *testing.F) {
	for _, s := range scenarios.Catalogue()[:3] {
		link, err := (&code.Assignment{Scenario: s, Mode: attempt.ModeAlone}).Link()
		require.NoError(f, err)
		f.Add(link)
	}
	f.Add("job2.AAAA")
	f.Add("#job1.")
	f.Fuzz(func(t *testing.T, text string) {
		a, err := code.ReadLink(text)
		if err != nil {
			if a != nil || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "code: link: ") {
				t.Fatalf("%q is no sentence", err)
			}
			return
		}
		if _, err := a.Link(); err != nil {
			t.Fatal(err)
		}
	})
}

// Links that were written one day are read for good; the page's reader is held
// to the same file.
func TestRecordedLinks(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(testdata, "codes", "links.json"))
	require.NoError(t, err)
	var links []struct{ Link, Class, Mode, Who, Seal, Scenario string }
	require.NoError(t, json.Unmarshal(data, &links))
	require.NotEmpty(t, links)
	for _, want := range links {
		text, err := code.LinkText(want.Link)
		require.NoError(t, err)
		assert.Equal(t, want.Scenario, text[strings.IndexByte(text, '\n')+1:])
		a, err := code.ReadLink(want.Link)
		require.NoError(t, err)
		assert.Equal(t, []string{want.Class, want.Mode, want.Who, want.Seal}, []string{a.Class, a.Mode, a.Who, a.Seal})
	}
}
