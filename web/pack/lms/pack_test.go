package lms_test

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/code"
	"crankbay/web/pack/lms"
)

// tinySite has the page as it is and next to nothing else.
func tinySite(t *testing.T) fstest.MapFS {
	t.Helper()
	index, err := os.ReadFile("../../shell/index.html")
	require.NoError(t, err)
	site := fstest.MapFS{"index.html": {Data: index}}
	for _, name := range []string{
		"core.wasm", "core.wasm.gz", "desk.wasm.gz", "scene.wasm.gz", "seal.wasm.gz", "wasm_exec.js", "scene.html", "app/lms.js", "app/main.js",
		"app/lms-policy.js", "css/base.css", "css/lms.css", "strings/en.json", "sw.js", "site.webmanifest", "model.en.html", "model/a.svg",
		"crankbay.html", "card.png", "NOTICE",
	} {
		site[name] = &fstest.MapFile{Data: []byte(name)}
	}
	return site
}

func one(format string) *lms.Package {
	return &lms.Package{Format: format, Pass: 0.7, Job: code.Assignment{Scenario: scenarios.Find("gasket-inline-four"), Mode: "grade"}}
}

// unzipped writes a package and reads it again.
func unzipped(t *testing.T, p *lms.Package, site fstest.MapFS) map[string]string {
	t.Helper()
	var b, again bytes.Buffer
	require.NoError(t, p.Write(&b, site))
	require.NoError(t, p.Write(&again, site))
	assert.True(t, bytes.Equal(b.Bytes(), again.Bytes()), "equal jobs give equal bytes")
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	require.NoError(t, err)
	files := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		data, err := io.ReadAll(r)
		require.NoError(t, err)
		files[f.Name] = string(data)
	}
	return files
}

func TestWhatIsInAPackage(t *testing.T) {
	for _, format := range lms.Formats() {
		files := unzipped(t, one(format), tinySite(t))
		for _, gone := range []string{"sw.js", "site.webmanifest", "core.wasm", "seal.wasm.gz", "model.en.html", "model/a.svg", "crankbay.html", "card.png"} {
			assert.NotContains(t, files, gone, format)
		}
		for _, there := range []string{"core.wasm.gz", "desk.wasm.gz", "scene.wasm.gz", "app/lms.js", "css/lms.css", "strings/en.json", "NOTICE"} {
			assert.Contains(t, files, there, format)
		}
		index := files["index.html"]
		assert.Contains(t, index, `<script src="app/lms.js" type="module">`)
		assert.NotContains(t, index, "app/main.js")
		assert.NotContains(t, index, `rel="manifest"`, "without it no service worker is asked for")
		assert.NotContains(t, index, "manifest-src")
		var box struct {
			Format, Link string
			Pass         float64
		}
		require.NoError(t, json.Unmarshal([]byte(files["package.json"]), &box))
		assert.Equal(t, format, box.Format)
		assert.InDelta(t, 0.7, box.Pass, 0)
		job, err := code.ReadLink(box.Link)
		require.NoError(t, err)
		assert.Equal(t, scenarios.Find("gasket-inline-four"), job.Scenario)
		for name, text := range files {
			if !strings.HasSuffix(name, ".xml") {
				continue
			}
			assert.NotContains(t, strings.ToLower(text), "gasket", "the manifest would tell")
		}
	}
}

// Only the package of cmi5 may speak to another origin.
func TestPolicies(t *testing.T) {
	for _, format := range []string{lms.SCORM12, lms.SCORM2004} {
		files := unzipped(t, one(format), tinySite(t))
		assert.Contains(t, files["index.html"], "connect-src 'self';")
		assert.NotContains(t, files, "app/lms-policy.js")
		p := one(format)
		p.Endpoint = "https://records.example"
		assert.ErrorContains(t, p.Write(io.Discard, tinySite(t)), "only a cmi5 package speaks to another origin")
	}
	files := unzipped(t, one(lms.CMI5), tinySite(t))
	assert.Contains(t, files["index.html"], "connect-src 'self' https: http:;")
	assert.Less(t, strings.Index(files["index.html"], "app/lms-policy.js"), strings.Index(files["index.html"], "app/lms.js"), "narrowed before anything runs")
	p := one(lms.CMI5)
	p.Endpoint = "https://records.example:8443"
	assert.Contains(t, unzipped(t, p, tinySite(t))["index.html"], "connect-src 'self' https://records.example:8443;")
	for _, bad := range []string{"records.example", "https://records.example/x", "https://a b", "'unsafe-inline'"} {
		p.Endpoint = bad
		assert.ErrorContains(t, p.Write(io.Discard, tinySite(t)), "want an origin")
	}
}

func TestPackagesThatCannotBeMade(t *testing.T) {
	for want, change := range map[string]func(*lms.Package){
		`format "lti"`: func(p *lms.Package) { p.Format = "lti" },
		"no scenario":  func(p *lms.Package) { p.Job.Scenario = nil },
		"pass mark":    func(p *lms.Package) { p.Pass = 1.2 },
		"language":     func(p *lms.Package) { p.Language = "fr" },
		"mode":         func(p *lms.Package) { p.Job.Mode = "easy" },
	} {
		p := one(lms.SCORM12)
		change(p)
		assert.ErrorContains(t, p.Write(io.Discard, tinySite(t)), want)
	}
	assert.ErrorIs(t, one(lms.SCORM12).Write(io.Discard, fstest.MapFS{}), lms.ErrNoSite)
	old := tinySite(t)
	old["index.html"] = &fstest.MapFile{Data: []byte("<!doctype html>")}
	assert.ErrorContains(t, one(lms.SCORM12).Write(io.Discard, old), "not the page this program knows")
	assert.Less(t, lms.MaxSuspend, 4096, "SCORM 1.2 keeps no more")
}

// The manifests hold against the schemas that were published with the standards, read by
// another program.
func TestManifestsPublishedSchemas(t *testing.T) {
	if _, err := os.Stat("../../../testdata/npm/node_modules/xmllint-wasm"); err != nil {
		missing(t, "the npm packages are not installed (npm ci in testdata/npm)")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		missing(t, "Node is not installed")
	}
	texts := map[string]string{}
	for _, format := range []string{lms.SCORM12, lms.SCORM2004} {
		p := one(format)
		p.Title = `Ana's "job" <1> & Ñ`
		texts[format] = unzipped(t, p, tinySite(t))["imsmanifest.xml"]
	}
	check := func(texts map[string]string) map[string][]string {
		in, err := json.Marshal(texts)
		require.NoError(t, err)
		cmd := exec.Command(node, "testdata/schema.mjs")
		cmd.Stdin = bytes.NewReader(in)
		var said bytes.Buffer
		cmd.Stderr = &said
		out, err := cmd.Output()
		require.NoError(t, err, said.String())
		var wrong map[string][]string
		require.NoError(t, json.Unmarshal(out, &wrong))
		return wrong
	}
	for format, wrong := range check(texts) {
		assert.Empty(t, wrong, format)
	}
	// And they can bite.
	texts[lms.SCORM12] = strings.Replace(texts[lms.SCORM12], "scormtype", "scormType", 1)
	texts[lms.SCORM2004] = strings.Replace(texts[lms.SCORM2004], `satisfiedByMeasure="false"`, `satisfiedByMeasure="perhaps"`, 1)
	for format, wrong := range check(texts) {
		assert.NotEmpty(t, wrong, format)
	}
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// The course structure of cmi5: no copy of its schema could be had, so its order is held
// here as we know it, from memory: course, then au with title, description, url,
// launchParameters.
func TestCourseStructure(t *testing.T) {
	p := one(lms.CMI5)
	p.Language, p.Title = "es", "Tarea <uno>"
	text := unzipped(t, p, tinySite(t))["cmi5.xml"]
	var c struct {
		XMLName xml.Name `xml:"https://w3id.org/xapi/profiles/cmi5/v1/CourseStructure.xsd courseStructure"`
		Course  struct {
			ID    string `xml:"id,attr"`
			Title []struct {
				Lang string `xml:"lang,attr"`
				Text string `xml:",chardata"`
			} `xml:"title>langstring"`
		} `xml:"course"`
		AU struct {
			ID          string `xml:"id,attr"`
			MoveOn      string `xml:"moveOn,attr"`
			MasteryMark string `xml:"masteryScore,attr"`
			Launch      string `xml:"launchMethod,attr"`
			URL         string `xml:"url"`
			Parameters  string `xml:"launchParameters"`
		} `xml:"au"`
	}
	require.NoError(t, xml.Unmarshal([]byte(text), &c))
	assert.Equal(t, "Tarea <uno>", c.Course.Title[0].Text)
	assert.Equal(t, "es-US", c.Course.Title[0].Lang)
	assert.Regexp(t, `^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-8[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`, c.AU.ID)
	assert.NotEqual(t, c.AU.ID, c.Course.ID)
	assert.Equal(t, []string{"CompletedAndPassed", "0.7", "AnyWindow", "index.html"}, []string{c.AU.MoveOn, c.AU.MasteryMark, c.AU.Launch, c.AU.URL})
	_, err := code.ReadLink(c.AU.Parameters)
	assert.NoError(t, err)
	var order []string
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		tok, err := d.Token()
		if err != nil {
			break
		}
		if s, ok := tok.(xml.StartElement); ok && s.Name.Local != "langstring" {
			order = append(order, s.Name.Local)
		}
	}
	assert.Equal(t, []string{"courseStructure", "course", "title", "description", "au", "title", "description", "url", "launchParameters"}, order)
}

// What the cmi5 specification asks of a course structure, clause by clause as we recall
// them (13.1.1 course, 13.1.4 assignable unit, 14 the file and its package); there was no
// copy of its schema to be had from a registry, so the rules are written by hand.
func TestCourseStructureRules(t *testing.T) {
	type unit struct {
		ID          string `xml:"id,attr"`
		MoveOn      string `xml:"moveOn,attr"`
		MasteryMark string `xml:"masteryScore,attr"`
		Launch      string `xml:"launchMethod,attr"`
		Activity    string `xml:"activityType,attr"`
		URL         string `xml:"url"`
		Texts       []struct {
			Lang string `xml:"lang,attr"`
			Text string `xml:",chardata"`
		} `xml:"title>langstring"`
		Said []struct {
			Lang string `xml:"lang,attr"`
			Text string `xml:",chardata"`
		} `xml:"description>langstring"`
	}
	for _, pass := range []float64{0.55, 0.7, 1} {
		for _, language := range []string{"", "en", "es"} {
			p := one(lms.CMI5)
			p.Pass, p.Language = pass, language
			files := unzipped(t, p, tinySite(t))
			text, ok := files["cmi5.xml"]
			require.True(t, ok, "14.1: cmi5.xml at the root of the package")
			var c struct {
				Course unit   `xml:"course"`
				AU     []unit `xml:"au"`
			}
			require.NoError(t, xml.Unmarshal([]byte(text), &c))
			require.Len(t, c.AU, 1, "13: at least one assignable unit")
			au := c.AU[0]
			absolute := regexp.MustCompile(`^[a-z][a-z0-9+.-]*:.+`)
			assert.Regexp(t, absolute, c.Course.ID, "13.1.1: id is an IRI")
			assert.Regexp(t, absolute, au.ID, "13.1.4: id is an IRI")
			assert.NotEqual(t, c.Course.ID, au.ID, "13.1.4: unique within the course")
			assert.Regexp(t, absolute, au.Activity, "13.1.4: activityType is an IRI")
			assert.Contains(t, []string{"NotApplicable", "Passed", "Completed", "CompletedAndPassed", "CompletedOrPassed"}, au.MoveOn, "13.1.4")
			assert.Contains(t, []string{"AnyWindow", "OwnWindow"}, au.Launch, "13.1.4")
			mark, err := strconv.ParseFloat(au.MasteryMark, 64)
			require.NoError(t, err)
			assert.True(t, mark >= 0 && mark <= 1, "13.1.4: masteryScore from 0 to 1")
			assert.InDelta(t, pass, mark, 0)
			assert.NotRegexp(t, absolute, au.URL)
			assert.Contains(t, files, au.URL, "14.1: a relative url is a file of the package")
			for _, list := range [][]struct {
				Lang string `xml:"lang,attr"`
				Text string `xml:",chardata"`
			}{c.Course.Texts, c.Course.Said, au.Texts, au.Said} {
				require.NotEmpty(t, list, "13.1: title and description")
				assert.Regexp(t, `^[a-z]{2}-[A-Z]{2}$`, list[0].Lang, "RFC 5646")
				assert.NotEmpty(t, list[0].Text)
			}
		}
	}
}

// The file list of a manifest is the package, less the manifest.
func TestTheManifestListsEveryFile(t *testing.T) {
	for _, format := range []string{lms.SCORM12, lms.SCORM2004} {
		files := unzipped(t, one(format), tinySite(t))
		var listed []string
		for _, part := range strings.Split(files["imsmanifest.xml"], `<file href="`)[1:] {
			name, _, _ := strings.Cut(part, `"`)
			listed = append(listed, name)
		}
		var there []string
		for name := range files {
			if name != "imsmanifest.xml" {
				there = append(there, name)
			}
		}
		slices.Sort(there)
		assert.Equal(t, there, listed)
	}
}

// The smallest memory of a platform holds every code there can be, with the word behind it
// that its grade is known; and the page's limits are those of the coder.
func TestEveryCodeFitsTheSmallestMemory(t *testing.T) {
	text := ""
	for _, name := range []string{"lms.js", "lms-scorm.js"} {
		data, err := os.ReadFile("../../shell/app/" + name)
		require.NoError(t, err)
		text += string(data)
	}
	of := func(pattern string) string {
		m := regexp.MustCompile(pattern).FindStringSubmatch(text)
		require.NotNil(t, m, pattern)
		return m[1]
	}
	assert.Equal(t, strconv.Itoa(code.MaxLength), of(`MOST = (\d+);`))
	limit, err := strconv.Atoi(of(`LIMIT12 = (\d+);`))
	require.NoError(t, err)
	assert.LessOrEqual(t, code.MaxLength+len(" "+of(`REPORTED = '(\w+)';`)), limit)
}
