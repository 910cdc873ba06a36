package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"crankbay/scenarios"
)

// Sizes that no honest file comes near [bytes].
const (
	scenarioBytesMax = 1 << 20
	attemptBytesMax  = 4 << 20
)

// readFile reads at most limit bytes of a file and says plainly what is wrong
// with one it cannot use.
func readFile(name string, limit int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, cause(err))
	}
	defer f.Close()
	if st, err := f.Stat(); err == nil && st.IsDir() {
		return nil, fmt.Errorf("%s: is a folder, want a file", name)
	}
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, cause(err))
	case int64(len(data)) > limit:
		return nil, fmt.Errorf("%s: longer than %d bytes, no such file is", name, limit)
	case len(strings.TrimSpace(string(data))) == 0:
		return nil, fmt.Errorf("%s: is empty", name)
	}
	return data, nil
}

// cause strips the name and the system call that os puts before the reason.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// looksLikeFile tells a file from the id of a scenario: ids hold neither dots
// nor slashes.
func looksLikeFile(arg string) bool { return strings.ContainsAny(arg, `./\`) }

// load returns the scenario that a command line names by its id or by a file.
func load(arg string) (*scenarios.Scenario, error) {
	if !looksLikeFile(arg) {
		if s := scenarios.Find(arg); s != nil {
			return s, nil
		}
		if _, err := os.Stat(arg); err != nil {
			return nil, usagef("no scenario %q; 'crankbay list' shows the catalogue", arg)
		}
	}
	data, err := readFile(arg, scenarioBytesMax)
	if err != nil {
		return nil, err
	}
	if classFile.Match(data) {
		return nil, fmt.Errorf("%s: a class file, no scenario; 'crankbay open LINK' gives the engine of one student", arg)
	}
	s, err := scenarios.Decode(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %s", arg, plain(err))
	}
	return s, nil
}

// plain strips the name of the package that a reader put before its sentence: the
// file's name stands there already.
func plain(err error) string {
	s := err.Error()
	for _, pkg := range []string{"scenarios: ", "attempt: ", "code: ", "class: ", "seal: "} {
		s = strings.TrimPrefix(s, pkg)
	}
	return s
}
