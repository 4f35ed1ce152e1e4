package project

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// What can be wrong with a file; test with errors.Is. Their texts are whole
// sentences, and what wraps them adds where and what.
var (
	// ErrForeign: the file is something else than a chart.
	ErrForeign = errors.New("this is not an Organbook chart")
	// ErrNewer: a later version of the program wrote it.
	ErrNewer = errors.New("this chart was made by a newer version of Organbook; update to open it")
	// ErrDamaged: it was a chart, but parts are missing or wrong.
	ErrDamaged = errors.New("the chart is damaged")
	// ErrTooLarge: it is larger than any chart can be.
	ErrTooLarge = errors.New("the file is too large to be a chart")
)

// MaxFileSize bounds what Read takes in.
const MaxFileSize = 64 << 20

// Read reads a chart in the native format and checks it. Every error wraps one
// of the sentinels above or comes from r; nothing larger than MaxFileSize is
// taken into memory.
func Read(r io.Reader) (*Chart, error) {
	data, err := readObject(r, MaxFileSize)
	if err != nil {
		return nil, err
	}
	return decode(data)
}

// readObject reads a whole file that starts like a JSON object. Files of
// another kind are recognised by their beginning and not read on.
func readObject(r io.Reader, limit int64) ([]byte, error) {
	head := make([]byte, 512)
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return nil, err
	}
	head = bytes.TrimPrefix(head[:n], []byte("\ufeff"))
	switch start := bytes.TrimLeft(head, " \t\r\n"); {
	case n == 0:
		return nil, damaged("the file is empty")
	case len(start) > 0 && start[0] != '{', len(start) == 0 && n < 512:
		return nil, ErrForeign
	}
	data, err := io.ReadAll(io.LimitReader(io.MultiReader(bytes.NewReader(head), r), limit+1))
	switch {
	case err != nil:
		return nil, err
	case int64(len(data)) > limit:
		return nil, fmt.Errorf("%w: more than %d MiB", ErrTooLarge, limit>>20)
	}
	return data, nil
}

func damaged(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrDamaged, fmt.Sprintf(format, args...))
}

// identify checks that a JSON object says it is of the given format and of a
// version this program knows.
func identify(data []byte, format string, version int) error {
	var head wireHeader
	err := json.Unmarshal(data, &head)
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		return syntaxError(data, syntax, format)
	case head.Format != format:
		return ErrForeign
	case head.Version > version:
		return ErrNewer
	case err != nil || head.Version < 1:
		return damaged("its version is not a number from 1")
	}
	return nil
}

// syntaxError tells a damaged chart, which names its format near its start,
// from foreign text that happens to start with a brace.
func syntaxError(data []byte, err *json.SyntaxError, format string) error {
	if !bytes.Contains(data[:min(len(data), 200)], []byte(format)) {
		return ErrForeign
	}
	before := data[:min(int(err.Offset), len(data))]
	line := 1 + bytes.Count(before, []byte("\n"))
	if int(err.Offset) >= len(data) {
		return damaged("it ends too early, in line %d", line)
	}
	return damaged("line %d: %v", line, err)
}

func decode(data []byte) (*Chart, error) {
	if err := identify(data, chartFormat, chartVersion); err != nil {
		return nil, err
	}
	var w wireChart
	if err := strict(data, &w); err != nil {
		return nil, damaged("%v", err)
	}
	c, err := w.chart()
	if err != nil {
		return nil, damaged("%v", err)
	}
	if err := c.Check(); err != nil {
		return nil, damaged("%v", err)
	}
	return c, nil
}

// strict decodes JSON and refuses fields it does not know: dropping them would
// lose them at the next save.
func strict(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return plainJSON(err)
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("something follows the end of the chart")
	}
	return nil
}

// plainJSON says in a user's words what the decoder found.
func plainJSON(err error) error {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return fmt.Errorf("%q cannot be a %s", kind.Field, kind.Value)
	}
	return errors.New(strings.TrimPrefix(err.Error(), "json: "))
}

// elements decodes a list of at most limit elements and converts each. Errors
// name the list and the element, counted from 1.
func elements[W, T any](raw json.RawMessage, name string, limit int, convert func(W) (T, error)) ([]T, error) {
	if len(raw) == 0 || string(raw) == "null" {
		return nil, nil
	}
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	if t, err := d.Token(); err != nil || t != json.Delim('[') {
		return nil, fmt.Errorf("%s is not a list", name)
	}
	var out []T
	for d.More() {
		if len(out) == limit {
			return nil, fmt.Errorf("%s has more than %d entries", name, limit)
		}
		var w W
		if err := d.Decode(&w); err != nil {
			return nil, fmt.Errorf("%s, entry %d: %w", name, len(out)+1, plainJSON(err))
		}
		item, err := convert(w)
		if err != nil {
			return nil, fmt.Errorf("%s, entry %d: %w", name, len(out)+1, err)
		}
		out = append(out, item)
	}
	return out, nil
}
