package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/diagnose"
	"crankbay/scenarios/code"
	"crankbay/web/pack/lms"
)

func newPack() *cobra.Command {
	var h handing
	var p lms.Package
	var out, site string
	c := &cobra.Command{
		Use:   "pack SCENARIO|FILE --format scorm12|scorm2004|cmi5 --out FILE.zip",
		Short: "Pack a scenario for a learning platform",
		Long: `Pack a scenario for a learning platform, by open standards: SCORM 1.2, SCORM 2004
(4th edition) or cmi5.

The package holds the whole page and this one job. The platform keeps the attempt (as
a short code of at most 3,500 characters), so it can be resumed on another device, and
gets status, score and time when it has been handed in and graded. A safety gate that
was not kept, or a row below its least, fails the job whatever the points are; a score
that would pass it is not reported then. Only a
cmi5 package speaks to another origin: the record store it is launched with, or the
one named by --endpoint.`,
		Example: `  crankbay pack burnt-exhaust-inline-four --format scorm12 --out burnt.zip
  crankbay pack my-engine.json --format cmi5 --mode grade --lang es --out job.zip`,
		Args: args(1, 1, "one scenario"),
		RunE: func(c *cobra.Command, a []string) error {
			switch {
			case p.Format == "":
				return usagef("pack: --format is missing, want one of %s", strings.Join(lms.Formats(), ", "))
			case !slices.Contains(lms.Formats(), p.Format):
				return usagef("pack: --format %q, want one of %s", p.Format, strings.Join(lms.Formats(), ", "))
			case !(p.Pass > 0 && p.Pass <= 1):
				return usagef("pack: --pass %g, want a share above 0, at most 1, such as %g", p.Pass, diagnose.PassMark)
			case out == "":
				return usagef("pack: --out is missing: the .zip to write")
			}
			if err := h.check("pack"); err != nil {
				return err
			}
			s, err := load(a[0])
			if err != nil {
				return err
			}
			p.Job = code.Assignment{Scenario: s, Mode: h.mode, Class: h.class, Seal: h.seal}
			err = toWhole(out, 0, func(w io.Writer) error { return p.Write(w, os.DirFS(site)) })
			if errors.Is(err, lms.ErrNoSite) {
				return fmt.Errorf("%s: %w", site, lms.ErrNoSite)
			}
			return err
		},
	}
	h.flags(c)
	f := c.Flags()
	f.StringVar(&p.Format, "format", "", "scorm12, scorm2004 or cmi5")
	f.StringVar(&out, "out", "", "file to write")
	f.StringVar(&site, "site", "web/dist", "folder of the built site")
	f.StringVar(&p.Title, "title", "", "title in the platform (default: the scenario's)")
	f.StringVar(&p.Language, "lang", "en", "language of titles: en or es; students choose their own")
	f.Float64Var(&p.Pass, "pass", diagnose.PassMark, "share of the points that passes, for the manifest")
	f.StringVar(&p.Endpoint, "endpoint", "", "origin of the record store, the only one a cmi5 package may then speak to")
	if err := f.MarkHidden("base"); err != nil {
		panic(err.Error())
	}
	return c
}
