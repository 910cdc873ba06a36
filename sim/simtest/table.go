package simtest

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A Table is one file of numbers to test against.
//
//	# source: NACA1135          key of an entry in testdata/SOURCES.md; required
//	# digits: 4                 most decimals printed in a cell; required
//	# mark: recalled            read (the default), recalled or computed
//	# note: gamma = 7/5         may be repeated
//	M,p_pt,A_Astar
//	0.10,0.9930,5.8218
//
// A unit stands at the end of a column's name. A column called name, which must be
// the first, holds text; every other cell is a finite number, and none is empty.
type Table struct {
	Source  string
	Digits  int
	Mark    string
	Note    string // the notes, one per line
	Columns []string
	Names   []string // the column name, empty if the table has none
	Rows    []Row

	printed [][]string
}

// A Row maps a column's name to the number in it. A column that does not exist
// reads as zero, so use Table.Column where a typing error must not pass.
type Row map[string]float64

// Marks say how sure a table is. Read: somebody saw the numbers in the source or
// in a copy of its text. Recalled: from memory, to be taken as a band and not as
// proof. Computed: worked out from a stated law.
const (
	MarkRead     = "read"
	MarkRecalled = "recalled"
	MarkComputed = "computed"
)

// Column returns one column from top to bottom. It panics if there is none of
// that name: that is a typing error in a test.
func (t Table) Column(name string) []float64 {
	if name == "name" || !slices.Contains(t.Columns, name) {
		panic(fmt.Sprintf("simtest: no column %q among %v", name, t.Columns))
	}
	list := make([]float64, len(t.Rows))
	for i, r := range t.Rows {
		list[i] = r[name]
	}
	return list
}

// Unit returns one unit of the last digit printed in a cell: 0.0001 for 5.8218,
// 1 for 1250. Printed tables truncate as often as they round, so a test allows a
// full unit, not half of one. It panics like Column.
func (t Table) Unit(row int, column string) float64 {
	i := slices.Index(t.Columns, column)
	if i < 0 || column == "name" {
		panic(fmt.Sprintf("simtest: no column %q among %v", column, t.Columns))
	}
	cell, exponent, _ := strings.Cut(strings.ToLower(t.printed[row][i]), "e")
	e, err := strconv.Atoi(exponent)
	if err != nil {
		e = 0
	}
	return math.Pow(10, float64(e-decimals(cell)))
}

func decimals(cell string) int {
	_, fraction, _ := strings.Cut(cell, ".")
	return len(fraction)
}

// Name returns the row of that name and whether there is one.
func (t Table) Name(name string) (Row, bool) {
	if i := slices.Index(t.Names, name); i >= 0 {
		return t.Rows[i], true
	}
	return nil, false
}

// Parse reads a table. Every departure from the form is an error that says what
// is wrong and in which line.
func Parse(data []byte) (Table, error) {
	t := Table{Digits: -1}
	lines := bufio.NewScanner(bytes.NewReader(data))
	for n := 1; lines.Scan(); n++ {
		line := lines.Text()
		var err error
		switch {
		case strings.HasPrefix(line, "#") && t.Columns == nil:
			err = t.header(line)
		case t.Columns == nil:
			err = t.columns(line)
		default:
			err = t.row(line)
		}
		if err != nil {
			return Table{}, fmt.Errorf("line %d: %w", n, err)
		}
	}
	if err := lines.Err(); err != nil {
		return Table{}, err
	}
	return t, t.complete()
}

var keyForm = regexp.MustCompile(`^[A-Z][A-Za-z0-9]+$`)

// header takes one line "# key: value".
func (t *Table) header(line string) error {
	key, value, ok := strings.Cut(strings.TrimPrefix(line, "# "), ": ")
	if !ok || value == "" || strings.HasPrefix(key, "#") {
		return fmt.Errorf("header %q, want \"# key: value\"", line)
	}
	switch key {
	case "source":
		if t.Source != "" || !keyForm.MatchString(value) {
			return fmt.Errorf("source %q, want one key of SOURCES.md", value)
		}
		t.Source = value
	case "digits":
		n, err := strconv.Atoi(value)
		if err != nil || n < 0 || n > 17 || t.Digits >= 0 {
			return fmt.Errorf("digits %q, want one whole number from 0 to 17", value)
		}
		t.Digits = n
	case "mark":
		if t.Mark != "" || !slices.Contains([]string{MarkRead, MarkRecalled, MarkComputed}, value) {
			return fmt.Errorf("mark %q, want read, recalled or computed", value)
		}
		t.Mark = value
	case "note":
		t.Note = strings.TrimPrefix(t.Note+"\n"+value, "\n")
	default:
		return fmt.Errorf("unknown header key %q", key)
	}
	return nil
}

// columns takes the line of names.
func (t *Table) columns(line string) error {
	names := strings.Split(line, ",")
	for i, name := range names {
		switch {
		case strings.TrimSpace(name) != name || name == "":
			return fmt.Errorf("column %d is called %q", i+1, name)
		case slices.Contains(names[:i], name):
			return fmt.Errorf("two columns are called %q", name)
		case name == "name" && i > 0:
			return errors.New("column name must be the first")
		}
	}
	t.Columns = names
	return nil
}

// row takes one line of cells.
func (t *Table) row(line string) error {
	cells := strings.Split(line, ",")
	if len(cells) != len(t.Columns) {
		return fmt.Errorf("%d cells under %d columns", len(cells), len(t.Columns))
	}
	r := Row{}
	for i, cell := range cells {
		column := t.Columns[i]
		if column == "name" {
			if cell == "" || slices.Contains(t.Names, cell) {
				return fmt.Errorf("name %q is empty or taken", cell)
			}
			t.Names = append(t.Names, cell)
			continue
		}
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s = %q is not a finite number", column, cell)
		}
		mantissa, _, _ := strings.Cut(strings.ToLower(cell), "e")
		if decimals(mantissa) > t.Digits {
			return fmt.Errorf("%s = %s has more than %d decimals", column, cell, t.Digits)
		}
		r[column] = v
	}
	t.Rows = append(t.Rows, r)
	t.printed = append(t.printed, cells)
	return nil
}

// complete checks what can only be missing at the end.
func (t *Table) complete() error {
	switch {
	case t.Source == "":
		return errors.New("no source")
	case t.Digits < 0:
		return errors.New("no digits")
	case len(t.Rows) == 0:
		return errors.New("no rows")
	}
	if t.Mark == "" {
		t.Mark = MarkRead
	}
	return nil
}
