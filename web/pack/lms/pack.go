package lms

import (
	"archive/zip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"

	"crankbay/scenarios"
	"crankbay/scenarios/code"
)

// Formats of packages.
const (
	SCORM12   = "scorm12"
	SCORM2004 = "scorm2004"
	CMI5      = "cmi5"
)

// Formats lists them.
func Formats() []string { return []string{SCORM12, SCORM2004, CMI5} }

// MaxSuspend is the longest code that a package lets a platform keep [characters]. The
// smallest memory is that of SCORM 1.2 with 4,096; nothing checks it but us.
const MaxSuspend = code.MaxLength

// A Package is one job for one platform.
type Package struct {
	Format   string
	Job      code.Assignment
	Title    string  // as the platform lists it; the scenario's own when empty
	Language string  // en or es, of titles; en when empty
	Pass     float64 // share of the points that passes, in (0, 1]
	Endpoint string  // of cmi5: the only record store it may speak to, "" the one it is launched with
}

// ErrNoSite says that a folder holds no built site.
var ErrNoSite = errors.New("holds no built site (index.html and core.wasm.gz): run 'make site', or name its folder with --site")

// Write writes the package as a zip: the page, the job in it, and the manifest. Equal
// sites and jobs give equal bytes.
func (p *Package) Write(w io.Writer, site fs.FS) error {
	if err := p.check(); err != nil {
		return err
	}
	link, err := p.Job.Link()
	if err != nil {
		return err
	}
	files, err := p.page(site, link)
	if err != nil {
		return err
	}
	names := sortedNames(files)
	manifest, text := p.manifest(names, link)
	files[manifest] = []byte(text)
	z := zip.NewWriter(w)
	// Platforms look for the manifest at the root, and some only at the front.
	for _, name := range append([]string{manifest}, names...) {
		if err := add(z, name, files[name]); err != nil {
			return err
		}
	}
	return z.Close()
}

func sortedNames(files map[string][]byte) []string {
	var names []string
	for name := range files {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// add writes one file. A zip has no date before 1980; that one is everybody's.
func add(z *zip.Writer, name string, data []byte) error {
	h := &zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)}
	if strings.HasSuffix(name, ".gz") || strings.HasSuffix(name, ".png") {
		h.Method = zip.Store // packed already
	}
	f, err := z.CreateHeader(h)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return err
}

func (p *Package) check() error {
	switch {
	case !slices.Contains(Formats(), p.Format):
		return fmt.Errorf("lms: format %q, want one of %s", p.Format, strings.Join(Formats(), ", "))
	case p.Job.Scenario == nil:
		return errors.New("lms: no scenario")
	case !(p.Pass > 0 && p.Pass <= 1):
		return fmt.Errorf("lms: pass mark %g, want a share above 0, at most 1", p.Pass)
	case p.Language != "" && p.Language != "en" && p.Language != "es":
		return fmt.Errorf("lms: language %q, want en or es", p.Language)
	case p.Endpoint != "" && p.Format != CMI5:
		return errors.New("lms: only a cmi5 package speaks to another origin; the others have no endpoint")
	case p.Endpoint != "" && !origin.MatchString(p.Endpoint):
		return fmt.Errorf("lms: endpoint %q, want an origin such as https://records.example", p.Endpoint)
	}
	return nil
}

var origin = regexp.MustCompile(`^https?://[A-Za-z0-9.-]+(:[0-9]+)?$`)

// kept are the folders and files of a site that a package needs. Programs go in packed;
// the page unpacks them itself.
func kept(name string) bool {
	switch dir := path.Dir(name); {
	case dir == "app" || dir == "css" || dir == "strings":
		return true
	case dir != ".":
		return false
	}
	switch name {
	case "index.html", "scene.html", "wasm_exec.js", "favicon.svg", "NOTICE", "library.bin", "catalogue.txt.gz",
		"core.wasm.gz", "desk.wasm.gz", "scene.wasm.gz", "seal.wasm.gz":
		return true
	}
	return false
}

// page collects the files, with the page made the package's own.
func (p *Package) page(site fs.FS, link string) (map[string][]byte, error) {
	files := map[string][]byte{}
	err := fs.WalkDir(site, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !kept(name) || name == "seal.wasm.gz" && p.Job.Seal == "" {
			return err
		}
		files[name], err = fs.ReadFile(site, name)
		return err
	})
	if err != nil || files["index.html"] == nil || files["core.wasm.gz"] == nil || files["app/lms.js"] == nil {
		return nil, ErrNoSite
	}
	index, err := p.index(string(files["index.html"]))
	if err != nil {
		return nil, err
	}
	files["index.html"] = []byte(index)
	box, err := json.MarshalIndent(struct {
		Format string  `json:"format"`
		Link   string  `json:"link"`
		Pass   float64 `json:"pass"`
	}{p.Format, link, p.Pass}, "", "  ")
	if err != nil {
		return nil, err
	}
	files["package.json"] = append(box, '\n')
	if p.Format != CMI5 {
		delete(files, "app/lms-policy.js")
	}
	return files, nil
}

var (
	manifestTag = regexp.MustCompile(`<link rel="manifest"[^>]*>\n?`)
	touchTag    = regexp.MustCompile(`<link rel="apple-touch-icon"[^>]*>\n?`)
	cardTag     = regexp.MustCompile(`<meta property="og:[^>]*>\n?`)
	policyTag   = regexp.MustCompile(`(<meta http-equiv="Content-Security-Policy" content="[^"]*)connect-src 'self'([^"]*">)`)
	mainTag     = `<script src="app/main.js" type="module"></script>`
	styleTag    = `<link rel="stylesheet" href="css/base.css">`
)

// index makes the page of the site the page of a package: it starts by app/lms.js, it
// keeps nothing on the device as a site, and its policy is its own.
func (p *Package) index(text string) (string, error) {
	if !strings.Contains(text, mainTag) || !strings.Contains(text, styleTag) || !policyTag.MatchString(text) {
		return "", errors.New("lms: index.html of the site is not the page this program knows; build the site by the same version")
	}
	for _, tag := range []*regexp.Regexp{manifestTag, touchTag, cardTag} {
		text = tag.ReplaceAllString(text, "")
	}
	text = strings.Replace(text, "manifest-src 'self'; ", "", 1)
	text = strings.Replace(text, styleTag, styleTag+"\n"+`<link rel="stylesheet" href="css/lms.css">`, 1)
	if p.Format == CMI5 {
		to := "'self' https: http:" // narrowed by lms-policy.js to where it was launched from
		if p.Endpoint != "" {
			to = "'self' " + p.Endpoint
		}
		text = policyTag.ReplaceAllString(text, "${1}connect-src "+to+"$2")
		text = strings.Replace(text, `<meta name="referrer"`, `<script src="app/lms-policy.js"></script>`+"\n"+`<meta name="referrer"`, 1)
	}
	return strings.Replace(text, mainTag, `<script src="app/lms.js" type="module"></script>`, 1), nil
}

// title is how the platform lists the job.
func (p *Package) title() string {
	t := p.Job.Scenario.Title
	switch {
	case p.Title != "":
		return p.Title
	case p.Language == "es" && t.ES != "" || t.EN == "":
		return t.ES
	}
	return t.EN
}

// said is a text of the scenario in the language of the package.
func (p *Package) said(t scenarios.Text) string {
	if p.Language == "es" && t.ES != "" || t.EN == "" {
		return t.ES
	}
	return t.EN
}
