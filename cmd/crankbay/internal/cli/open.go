package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/scenarios/attempt"
	"crankbay/scenarios/code"
	"crankbay/scenarios/collect"
)

func newOpen() *cobra.Command {
	var key, out string
	c := &cobra.Command{
		Use:   "open LINK|CODE|FILE",
		Short: "Unpack a link, a short code or a sealed hand-in",
		Long: `Unpack a link, a short code or a sealed hand-in.

A link gives the scenario file in it. A code gives the attempt as a file with its
last mark only: 'crankbay verify' grades the code itself. A sealed hand-in needs the
private key and gives what was sealed. The file of an attempt gives its short code.`,
		Example: `  crankbay open 'https://school.example/bay/#job1.…' > engine.json
  crankbay open handed-in.txt --key my-key.txt`,
		Args: args(1, 1, "one link, code or file"),
		RunE: func(c *cobra.Command, a []string) error {
			text, err := textOf(a[0])
			if err != nil {
				return err
			}
			data, err := unpacked(text, key)
			if err != nil {
				return fmt.Errorf("%.60s: %s", a[0], plain(err))
			}
			if out != "" {
				return toFile(out, func(w io.Writer) error { _, err := w.Write(data); return err })
			}
			_, err = c.OutOrStdout().Write(data)
			return err
		},
	}
	c.Flags().StringVar(&key, "key", "", "file of the private key that opens sealed hand-ins")
	c.Flags().StringVarP(&out, "out", "o", "", "write into this file instead of standard output")
	return c
}

// textOf is an argument itself when it looks like what is packed, else the file.
func textOf(arg string) (string, error) {
	for _, p := range []string{code.Prefix, code.PrefixQR, code.Sealed} {
		if strings.HasPrefix(arg, p) {
			return arg, nil
		}
	}
	if isLink(arg) {
		return arg, nil
	}
	data, err := readFile(arg, attemptBytesMax)
	return string(data), err
}

// isLink tells whether a text is an address with an assignment of any version, or the
// end of one.
func isLink(text string) bool {
	const word = "job" // of code.Fragment
	return strings.Contains(text, "#"+word) || strings.HasPrefix(strings.TrimSpace(text), code.Fragment)
}

func unpacked(text, key string) ([]byte, error) {
	if isLink(text) {
		a, err := code.ReadLink(text)
		if err != nil {
			return nil, err
		}
		data, err := a.Scenario.Encode()
		return append(data, '\n'), err
	}
	in := collect.Find(collect.Source{Data: []byte(text)})
	if len(in) != 1 {
		return nil, fmt.Errorf("%d codes, want one", len(in))
	}
	switch in[0].Form {
	case collect.FormSealed:
		return opened(string(in[0].Data), key)
	case collect.FormCode:
		b, err := code.Decode(string(in[0].Data))
		if err != nil {
			return nil, err
		}
		return b.File.Encode()
	case collect.FormFile:
		f, err := attempt.Decode(in[0].Data)
		if err != nil {
			return nil, err
		}
		short, err := code.Encode(f)
		return []byte(short + "\n"), err
	}
	return nil, fmt.Errorf("neither a link nor a code")
}

func opened(text, key string) ([]byte, error) {
	if key == "" {
		return nil, usagef("open: it is sealed; --key names the file of the private key")
	}
	k, err := readKey(key)
	if err != nil {
		return nil, err
	}
	return k.Open(text)
}
