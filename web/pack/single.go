//go:build !js

package pack

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"regexp"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// SingleLimit is the most bytes of the page in one file: what still goes through
// most mail boxes.
const SingleLimit = 6_500_000

// wholeProgram is core and the programs beside it in one; it is built for the single file
// only.
const wholeProgram = "./cmd/webwhole"

// single makes the one page that carries the whole site in it. It is what opens
// from a disk or a mail, where nothing can be fetched: scripts and styles stand in
// the page, named by their hashes in its policy, everything else as parts that
// app/parts.js reads.
func (c contents) single(whole []byte) ([]byte, error) {
	main, err := c.bundle("app/main.js")
	if err != nil {
		return nil, err
	}
	worker, err := c.bundle("app/desk-worker.js")
	if err != nil {
		return nil, err
	}
	frame, err := c.bundle("app/scene-frame.js")
	if err != nil {
		return nil, err
	}
	p := packed{contents: c, glue: string(c["wasm_exec.js"])}
	scene := p.scene(frame)
	style := p.style("css/base.css", "css/places.css", "css/bay.css", "css/drawing.css", "css/debrief.css", "css/opinion.css", "css/office.css", "css/office-collect.css")
	p.part("whole", "core.wasm.gz desk.wasm.gz opinion.wasm.gz", whole)
	p.part("scene", "scene.wasm.gz", c["scene.wasm.gz"])
	p.part("frame", "scene.html", []byte(scene))
	p.part("worker", "desk-worker.js", []byte(worker))
	for _, lang := range []string{"en", "es"} {
		p.part("strings", "strings/"+lang+".json.gz", compress(c["strings/"+lang+".json"]))
		for _, page := range []string{"model", "guide", "words", "access"} {
			name := page + "." + lang + ".html"
			p.part(page+"-"+lang, name+".gz", compress(p.document(name)))
		}
	}
	if library, ok := c[libraryName]; ok {
		p.part("library", libraryName, library)
	}
	page := p.page(style, p.script(main))
	return page, nil
}

// bundle joins a module of the site and all it imports into one plain script.
func (c contents) bundle(entry string) (string, error) {
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{entry}, Bundle: true, Write: false, Format: api.FormatIIFE, Target: api.ES2022,
		MinifyWhitespace: true, MinifySyntax: true, Charset: api.CharsetASCII, LogLevel: api.LogLevelSilent,
		Plugins: []api.Plugin{c.asFiles()},
	})
	if len(result.Errors) > 0 {
		return "", fmt.Errorf("pack: joining %s: %s", entry, result.Errors[0].Text)
	}
	return strings.TrimSpace(string(result.OutputFiles[0].Contents)), nil
}

// asFiles lets the bundler read the site from memory.
func (c contents) asFiles() api.Plugin {
	return api.Plugin{Name: "site", Setup: func(b api.PluginBuild) {
		b.OnResolve(api.OnResolveOptions{Filter: ".*"}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
			name := a.Path
			if a.Importer != "" {
				name = joined(a.Importer, a.Path)
			}
			return api.OnResolveResult{Path: name, Namespace: "site"}, nil
		})
		b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: "site"}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
			data, ok := c[a.Path]
			if !ok {
				return api.OnLoadResult{}, fmt.Errorf("the site has no %s", a.Path)
			}
			text := string(data)
			return api.OnLoadResult{Contents: &text, Loader: api.LoaderJS}, nil
		})
	}}
}

// packed collects the parts of the page and the hashes its policy needs.
type packed struct {
	contents
	glue            string // wasm_exec.js
	scripts, styles []string
	parts           strings.Builder
}

// script is an element with a script in it, which the policy then allows.
func (p *packed) script(text string) string {
	text = strings.ReplaceAll(text, "</script", `<\/script`)
	p.scripts = append(p.scripts, hashed(text))
	return "<script>" + text + "</script>"
}

// style is an element with these sheets in it, which the policy then allows.
func (p *packed) style(names ...string) string {
	var text strings.Builder
	for _, name := range names {
		text.Write(p.contents[name])
	}
	p.styles = append(p.styles, hashed(text.String()))
	return "<style>" + text.String() + "</style>"
}

// scene is the document of the drawing's frame. It lives under the policy of the
// page around it, so its scripts are named there.
func (p *packed) scene(frame string) string {
	return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="color-scheme" content="light dark"><title>Bench drawing</title>` +
		p.style("css/scene.css") + `</head><body aria-hidden="true">` + p.script(p.glue) + p.script(frame) + `</body></html>`
}

var (
	policyTag = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>\n?`)
	linkTag   = regexp.MustCompile(`<link [^>]*>\n?`)
	navTag    = regexp.MustCompile(`(?s)<nav .*?</nav>\n?`)
	pageLink  = regexp.MustCompile(`<a href="(?:model|guide|words|access)\.[a-z]+\.html">(.*?)</a>`)
	sheetLink = regexp.MustCompile(`<link rel="stylesheet" href="([^"]+)">`)
	figureSrc = regexp.MustCompile(`model/[a-z0-9.-]+\.svg`)
)

// document makes a page of the site stand alone: its style in it, its figures as
// data, and no way to pages that aren't there.
func (p *packed) document(name string) []byte {
	text := string(p.contents[name])
	var sheets []string
	for _, m := range sheetLink.FindAllStringSubmatch(text, -1) {
		sheets = append(sheets, m[1])
	}
	style := p.style(sheets...)
	text = pageLink.ReplaceAllString(text, "$1")
	text = navTag.ReplaceAllString(linkTag.ReplaceAllString(policyTag.ReplaceAllString(text, ""), ""), "")
	text = strings.Replace(text, "</head>", style+"</head>", 1)
	return []byte(figureSrc.ReplaceAllStringFunc(text, func(file string) string {
		return "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(p.contents[file])
	}))
}

// part adds a file for app/parts.js to find under any of the names.
func (p *packed) part(id, names string, data []byte) {
	fmt.Fprintf(&p.parts, "<script type=\"text/plain\" id=\"part-%s\" data-part=\"%s\">", id, names)
	p.parts.WriteString(dense(data))
	p.parts.WriteString("</script>\n")
}

// page is the whole document.
func (p *packed) page(style, main string) []byte {
	glue := p.script(p.glue)
	icon := "data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(p.contents["favicon.svg"])
	policy := "default-src 'none'; script-src 'wasm-unsafe-eval' " + strings.Join(p.scripts, " ") +
		"; style-src " + strings.Join(p.styles, " ") + "; worker-src blob:; img-src data: blob:; base-uri 'none'; form-action 'none'"
	var b bytes.Buffer
	shell := string(p.contents["index.html"])
	body := shell[strings.Index(shell, "<body>"):strings.Index(shell, "</body>")]
	title := regexp.MustCompile(`(?s)<title>.*?</title>`).FindString(shell)
	description := regexp.MustCompile(`<meta name="description"[^>]*>`).FindString(shell)
	fmt.Fprintf(&b, "<!doctype html>\n<html lang=\"en\" data-packed>\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1, interactive-widget=resizes-content\">\n"+
		"<meta http-equiv=\"Content-Security-Policy\" content=\"%s\">\n<meta name=\"referrer\" content=\"no-referrer\">\n"+
		"<meta name=\"color-scheme\" content=\"light dark\">\n%s\n%s\n<link rel=\"icon\" href=\"%s\">\n%s\n</head>\n",
		html.EscapeString(policy), description, title, icon, style)
	b.WriteString(body)
	b.WriteString("<!--\n" + strings.ReplaceAll(string(p.contents["NOTICE"]), "--", "- -") + "\n-->\n")
	b.WriteString(p.parts.String())
	b.WriteString(glue + "\n" + main + "\n</body>\n</html>\n")
	return b.Bytes()
}

func hashed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// dense writes bytes as letters of seven bits each, highest first: an eighth more
// letters than bytes, where base64 takes a third. What HTML would change (NUL,
// carriage return) or read as an end (<) stands 256 higher, as two bytes of UTF-8.
func dense(data []byte) string {
	out := make([]byte, 0, len(data)*6/5)
	letter := func(v byte) {
		if v == 0 || v == '\r' || v == '<' {
			out = append(out, 0xc4, 0x80|v) // U+0100 + v
			return
		}
		out = append(out, v)
	}
	var bits uint
	have := 0
	for _, b := range data {
		bits = bits<<8 | uint(b)
		have += 8
		for have >= 7 {
			have -= 7
			letter(byte(bits>>have) & 0x7f)
		}
	}
	if have > 0 {
		letter(byte(bits<<(7-have)) & 0x7f)
	}
	return string(out)
}

// joined resolves a relative import.
func joined(importer, name string) string {
	dir := importer[:strings.LastIndexByte(importer, '/')+1]
	for strings.HasPrefix(name, "./") || strings.HasPrefix(name, "../") {
		if strings.HasPrefix(name, "./") {
			name = name[2:]
			continue
		}
		name = name[3:]
		dir = strings.TrimSuffix(dir, "/")
		dir = dir[:strings.LastIndexByte(dir, '/')+1]
	}
	return dir + name
}
