package cli

import (
	"bytes"
	"fmt"
	"io"
	"net/url"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/cmd/crankbay/internal/library"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/scenarios/code"
	"crankbay/scenarios/code/qr"
	"crankbay/scenarios/compose"
	"crankbay/scenarios/seal"
)

func newCompose() *cobra.Command {
	c := &cobra.Command{
		Use:   "compose",
		Short: "Check a scenario, hand it out as a link, make a class set",
		Long: `Check a scenario, hand it out as a link, make a class set.

What links and variants protect: nobody reads the answer off a link by looking at it,
and no student can use another one's readings, because everybody's engine is another
one. What they do not protect: a link can be unpacked by whoever takes the trouble,
and nothing proves who sat there.`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newComposeCheck(), newComposeFormat(), newComposeLink(), newComposeClass(), newComposeKey())
	return c
}

func newComposeCheck() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check SCENARIO|FILE...",
		Short: "Say what a scenario reads by the book, and whether that can settle it",
		Long: `Say what a scenario reads by the book, and whether that can settle it.

The test is done dry, wet and with the leakage tester. The rules that grade students
say what dry and wet readings support; the likelihood library says how probable the
key is by then, and after leakage, lash and timing marks. A scenario that no test can
settle is warned of; it can be meant so.`,
		Example: `  crankbay compose check my-engine.json
  crankbay compose check burnt-exhaust-inline-four --json`,
		Args: args(1, -1, "one or more scenarios"),
		RunE: func(c *cobra.Command, a []string) error {
			var all []checked
			for i, name := range a {
				s, err := load(name)
				if err != nil {
					return err
				}
				l, err := compose.Whole(s, library.Open())
				if err != nil {
					return fmt.Errorf("%s: the test by the book: %w", name, err)
				}
				all = append(all, checked{name, s.ID, s.Digest(), l})
				if asJSON {
					continue
				}
				if i > 0 {
					fmt.Fprintln(c.OutOrStdout())
				}
				if err := writeLook(c.OutOrStdout(), s, all[i]); err != nil {
					return err
				}
			}
			if asJSON {
				return writeJSON(c.OutOrStdout(), all)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// checked is what `compose check --json` prints of one scenario.
type checked struct {
	Name   string `json:"name"`
	ID     string `json:"id"`
	Digest string `json:"digest"`
	compose.Look
}

// verdictWords say what the evidence can do.
var verdictWords = map[string]string{
	compose.Settled:        "dry and wet readings support the key",
	compose.SettledByTests: "readings leave the key open; leakage, lash or timing marks tell",
	compose.Unsettled:      "no test that was tried here tells the key from the rest",
	compose.Misled:         "the readings say something else than the key",
}

func writeLook(w io.Writer, s *scenarios.Scenario, k checked) error {
	fmt.Fprintf(w, "%s: %s\n", k.Name, verdictWords[k.Verdict])
	fmt.Fprintf(w, "pattern %s", plainWords(k.Pattern))
	if k.KeyGauge != nil && k.KeyTests != nil {
		fmt.Fprintf(w, "; the key is %.0f %% probable by dry and wet readings, %.0f %% after further tests", 100**k.KeyGauge, 100**k.KeyTests)
	}
	fmt.Fprint(w, "\n\n")
	t := table{head: []string{"cylinder", "first", "dry", "wet", "leakage"}}
	for i, r := range k.Dry {
		wet, leak := "", ""
		if i < len(k.Wet) {
			wet = fmt.Sprintf("%.1f", k.Wet[i].FinalPSI)
		}
		if i < len(k.Leakage) {
			leak = fmt.Sprintf("%.0f %%", k.Leakage[i].Percent)
		}
		t.add(fmt.Sprint(r.Cylinder), fmt.Sprintf("%.1f", r.FirstPSI), fmt.Sprintf("%.1f", r.FinalPSI), wet, leak)
	}
	if err := t.write(w); err != nil {
		return err
	}
	fmt.Fprintln(w, "psi, as read off", s.Tools.Gauges[0].ID)
	for _, x := range k.Warnings {
		fmt.Fprintf(w, "warning: %s\n", warningWords(x))
	}
	return nil
}

func warningWords(w compose.Warning) string {
	switch w.Key {
	case compose.WarnOffScale:
		return fmt.Sprintf("cylinder %d reads %.0f psi, and the gauge ends at %.0f", w.Cylinder, w.Value, w.Limit)
	case compose.WarnNothing:
		return fmt.Sprintf("cylinder %d gives no full stroke at all", w.Cylinder)
	case compose.WarnOneLang:
		return "a text stands in one language only"
	case compose.WarnTells:
		return "a text names what the student is to find"
	case compose.WarnSoundFails:
		return fmt.Sprintf("the key says sound, but cylinder %d fails the limits with %.0f psi", w.Cylinder, w.Value)
	case compose.WarnMisled:
		return "the evidence can't settle it: what is read points elsewhere"
	}
	return "the evidence can't settle it: the key stays one of several"
}

func newComposeFormat() *cobra.Command {
	var write bool
	c := &cobra.Command{
		Use:   "format FILE...",
		Short: "Print a scenario file in its usual form, or write it back with -w",
		Example: `  crankbay compose format my-engine.json
  crankbay compose format -w engines/*.json`,
		Args: args(1, -1, "one or more scenario files"),
		RunE: func(c *cobra.Command, a []string) error {
			for _, name := range a {
				s, err := load(name)
				if err != nil {
					return err
				}
				data, err := s.Encode()
				if err != nil {
					return err
				}
				data = append(data, '\n')
				if !write {
					if _, err := c.OutOrStdout().Write(data); err != nil {
						return err
					}
					continue
				}
				if !looksLikeFile(name) {
					return usagef("compose format: %s is of the catalogue, -w takes files", name)
				}
				if old, err := os.ReadFile(name); err == nil && bytes.Equal(old, data) {
					continue
				}
				if err := toWhole(name, 0, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
					return err
				}
			}
			return nil
		},
	}
	c.Flags().BoolVarP(&write, "write", "w", false, "write the file back instead of printing it")
	return c
}

// handing is how a scenario is handed out.
type handing struct {
	mode, who, class, seal, base, qr string
}

func (h *handing) flags(c *cobra.Command) {
	c.Flags().StringVar(&h.mode, "mode", "", "way of working: reasons, alone or grade (default: the student chooses)")
	c.Flags().StringVar(&h.class, "name", "", "name of the class or the assignment, as students see it")
	c.Flags().StringVar(&h.seal, "seal", "", "public key that hand-ins are sealed to, or a file with one")
	c.Flags().StringVar(&h.base, "base", "", "address of the site, such as https://school.example/bay/")
}

// check says what would only fail later, and reads the key out of its file.
func (h *handing) check(command string) error {
	if h.mode != "" && !slices.Contains(attempt.Modes(), h.mode) {
		return usagef("%s: --mode %q, want one of %s", command, h.mode, strings.Join(attempt.Modes(), ", "))
	}
	if h.base != "" && !siteAddress(h.base) {
		return usagef("%s: --base %q, want the whole address of the site, such as https://school.example/bay/, without # and blanks", command, h.base)
	}
	if h.seal == "" {
		return nil
	}
	if !strings.HasPrefix(h.seal, seal.PublicPrefix) {
		data, err := readFile(h.seal, keyBytesMax)
		if err != nil {
			return err
		}
		name := h.seal
		if h.seal, err = publicIn(string(data)); err != nil {
			return fmt.Errorf("%s: %s", name, plain(err))
		}
	}
	if err := seal.CheckPublic(h.seal); err != nil {
		return usagef("%s: --seal: %s", command, plain(err))
	}
	return nil
}

// siteAddress reports whether links can begin with a text: an address of the web, or of
// the page in one file on a disk, with nothing behind the # yet.
func siteAddress(text string) bool {
	if strings.ContainsAny(text, "# \t\r\n") {
		return false
	}
	u, err := url.Parse(text)
	if err != nil {
		return false
	}
	switch u.Scheme {
	case "http", "https":
		return u.Hostname() != ""
	case "file":
		return strings.HasPrefix(u.Path, "/")
	}
	return false
}

// publicIn finds the public key in a file that holds either half.
func publicIn(text string) (string, error) {
	for _, word := range strings.Fields(text) {
		if strings.HasPrefix(word, seal.PublicPrefix) {
			return word, nil
		}
	}
	k, err := seal.ParseKey(text)
	if err != nil {
		return "", err
	}
	return k.Public(), nil
}

func (h *handing) address(link string) string { return h.base + "#" + link }

func newComposeLink() *cobra.Command {
	var h handing
	c := &cobra.Command{
		Use:   "link SCENARIO|FILE",
		Short: "Print a link that carries a scenario",
		Long: `Print a link that carries a scenario.

Everything stands behind the #, so no server ever sees it. It can't be read at a
glance; it is no secret either: the page that opens it can unpack it, and so can
whoever takes the trouble.`,
		Example: `  crankbay compose link burnt-exhaust-v6 --base https://school.example/bay/ --mode grade
  crankbay compose link my-engine.json --qr link.svg`,
		Args: args(1, 1, "one scenario"),
		RunE: func(c *cobra.Command, a []string) error {
			if err := h.check("compose link"); err != nil {
				return err
			}
			s, err := load(a[0])
			if err != nil {
				return err
			}
			link, err := (&code.Assignment{Scenario: s, Mode: h.mode, Who: h.who, Class: h.class, Seal: h.seal}).Link()
			if err != nil {
				return fmt.Errorf("%s: %s", a[0], plain(err))
			}
			fmt.Fprintln(c.OutOrStdout(), h.address(link))
			if h.qr == "" {
				return nil
			}
			square, err := qr.Draw(h.address(link))
			if err != nil {
				return err
			}
			return toFile(h.qr, func(w io.Writer) error { _, err := io.WriteString(w, square.SVG(s.ID)+"\n"); return err })
		},
	}
	h.flags(c)
	c.Flags().StringVar(&h.who, "who", "", "name of the student it is for")
	c.Flags().StringVar(&h.qr, "qr", "", "draw it as a QR code into this .svg file too")
	return c
}

func newComposeKey() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "key --out FILE",
		Short: "Make a pair of keys for sealed hand-ins",
		Long: `Make a pair of keys for sealed hand-ins.

The file opens every hand-in that was sealed to it: keep it to yourself, and keep a
copy, because without it they stay closed. The public key is printed; it goes into
links (--seal).`,
		Example: `  crankbay compose key --out my-key.txt`,
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return usagef("compose key: --out is missing: the file that will hold the private key")
			}
			if _, err := os.Stat(out); err == nil {
				return fmt.Errorf("%s: is there already; a key that is lost opens nothing any more", out)
			}
			k, err := seal.NewKey()
			if err != nil {
				return err
			}
			if err := os.WriteFile(out, []byte(k.Private()+"\n"), 0o600); err != nil {
				return fmt.Errorf("%s: %w", out, cause(err))
			}
			fmt.Fprintln(c.OutOrStdout(), k.Public())
			return nil
		},
	}
	c.Flags().StringVar(&out, "out", "", "file for the private key; it must not be there yet")
	return c
}

// readings are the last strokes of a test, as a list.
func readings(list []book.Reading) string {
	var out []string
	for _, r := range list {
		out = append(out, fmt.Sprintf("%.1f", r.FinalPSI))
	}
	return strings.Join(out, " ")
}
