package job

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"seatboard/internal/kit/meas"
)

// maxDepth is more than any clock nests.
const maxDepth = 16

// mostFaults bounds the list: a file of another kind has a fault in each line.
const mostFaults = 50

// parse reads JSON into map[string]any, []any, string, bool, json.Number and
// nil, and refuses a name that stands twice in one object. The error is a
// [meas.Faults].
func parse(b []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	v, err := parseValue(d, "", 0)
	if err == nil {
		if _, e := d.Token(); e != io.EOF {
			err = errors.New("something follows after the end")
		}
	}
	var f meas.Faults
	if err != nil && !errors.As(err, &f) {
		line := 1 + bytes.Count(b[:min(int(d.InputOffset()), len(b))], []byte("\n"))
		return nil, faultf("", "The file is not whole JSON: line %d, %s", line, strings.TrimPrefix(err.Error(), "json: "))
	}
	return v, err
}

func parseValue(d *json.Decoder, path string, depth int) (any, error) {
	if depth > maxDepth {
		return nil, faultf(path, "The values are nested deeper than in any clock")
	}
	t, err := d.Token()
	if err != nil {
		if err == io.EOF {
			err = io.ErrUnexpectedEOF
		}
		return nil, err
	}
	switch t {
	case json.Delim('{'):
		return parseObject(d, path, depth)
	case json.Delim('['):
		list := []any{}
		for i := 0; d.More(); i++ {
			v, err := parseValue(d, fmt.Sprintf("%s[%d]", path, i), depth+1)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		_, err = d.Token()
		return list, err
	}
	return t, nil
}

func parseObject(d *json.Decoder, path string, depth int) (any, error) {
	o := map[string]any{}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, err
		}
		name, _ := t.(string)
		at := under(path, name)
		if _, twice := o[name]; twice {
			return nil, faultf(at, "“%s” stands there twice; keep one", meas.Clip(name))
		}
		if rawAt(at) {
			o[name], err = parseRaw(d)
		} else {
			o[name], err = parseValue(d, at, depth+1)
		}
		if err != nil {
			return nil, err
		}
	}
	_, err := d.Token()
	return o, err
}

// rawAt tells whether JSON stands at a path that is handed on as it is.
func rawAt(path string) bool {
	if rest, ok := strings.CutPrefix(path, "logs["); ok {
		_, name, _ := strings.Cut(rest, "].")
		return name == "entries"
	}
	rest, ok := strings.CutPrefix(path, "listenings[")
	if !ok {
		return false
	}
	_, name, _ := strings.Cut(rest, "].")
	return name == "answer" || name == "settings"
}

func parseRaw(d *json.Decoder) (any, error) {
	var text json.RawMessage
	if err := d.Decode(&text); err != nil {
		return nil, err
	}
	s, err := compact(string(text))
	return raw(s), err
}

func under(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// fill puts a parsed value into dst, a pointer to a struct of this package,
// and names every value that does not fit.
func fill(v any, dst any, f *faults) { fillValue(v, reflect.ValueOf(dst).Elem(), "", f) }

func fillValue(v any, dst reflect.Value, path string, f *faults) {
	if len(f.list) >= mostFaults {
		return
	}
	if v == nil {
		return // null is as good as left out
	}
	if t, ok := dst.Addr().Interface().(encoding.TextUnmarshaler); ok {
		s, isText := v.(string)
		if !isText || t.UnmarshalText([]byte(s)) != nil {
			f.add(path, "%s is not an instant; write it like 2026-12-24T10:30:00Z", showed(v))
		}
		return
	}
	if r, ok := v.(raw); ok {
		dst.SetString(string(r))
		return
	}
	switch dst.Kind() {
	case reflect.Pointer:
		dst.Set(reflect.New(dst.Type().Elem()))
		fillValue(v, dst.Elem(), path, f)
	case reflect.Struct:
		fillStruct(v, dst, path, f)
	case reflect.Map:
		fillMap(v, dst, path, f)
	case reflect.Slice:
		fillSlice(v, dst, path, f)
	case reflect.String:
		s, ok := v.(string)
		if !ok {
			f.add(path, `%s is not a text; put it between quotation marks`, showed(v))
		}
		dst.SetString(s)
	case reflect.Bool:
		b, ok := v.(bool)
		if !ok {
			f.add(path, "%s is neither true nor false", showed(v))
		}
		dst.SetBool(b)
	case reflect.Int, reflect.Int64:
		n, _ := v.(json.Number)
		i, err := strconv.ParseInt(n.String(), 10, 32)
		if err != nil {
			f.add(path, "%s is not a whole number", showed(v))
		}
		dst.SetInt(i)
	case reflect.Float64:
		n, _ := v.(json.Number)
		x, err := strconv.ParseFloat(n.String(), 64)
		if err != nil {
			f.add(path, "%s is not a number", showed(v))
		}
		dst.SetFloat(x)
	}
}

func fillStruct(v any, dst reflect.Value, path string, f *faults) {
	o, ok := v.(map[string]any)
	if !ok {
		f.add(path, "%s is not an object {…}", showed(v))
		return
	}
	known := map[string]reflect.Value{}
	for i := range dst.NumField() {
		name, _, _ := strings.Cut(dst.Type().Field(i).Tag.Get("json"), ",")
		if name != "-" {
			known[name] = dst.Field(i)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(o)) {
		at := under(path, name)
		field, ok := known[name]
		if !ok {
			f.passOver(at, o[name])
			continue
		}
		fillValue(o[name], field, at, f)
	}
}

// mostUnread bounds what is kept of names that are not known.
const mostUnread = 500

// passOver keeps what stands under a name that is not known.
func (f *faults) passOver(path string, v any) {
	text, err := json.Marshal(v)
	switch {
	case len(f.unread) >= mostUnread:
		f.add(path, "There are more than %d names that this program does not know; check that it is the file of a clock", mostUnread)
	case err != nil || len(text) > MaxText || len(path) > MaxText:
		f.add(path, "This name is not known to this program and holds more than 1 MB, which cannot be kept with the clock; take it out")
	default:
		f.unread = append(f.unread, Unread{Path: path, JSON: string(text)})
	}
}

func fillMap(v any, dst reflect.Value, path string, f *faults) {
	o, ok := v.(map[string]any)
	if !ok {
		f.add(path, "%s is not an object {…}", showed(v))
		return
	}
	dst.Set(reflect.MakeMap(dst.Type()))
	for _, name := range slices.Sorted(maps.Keys(o)) {
		x := reflect.New(dst.Type().Elem()).Elem()
		fillValue(o[name], x, under(path, name), f)
		dst.SetMapIndex(reflect.ValueOf(name), x)
	}
}

func fillSlice(v any, dst reflect.Value, path string, f *faults) {
	list, ok := v.([]any)
	if !ok {
		f.add(path, "%s is not a list […]", showed(v))
		return
	}
	dst.Set(reflect.MakeSlice(dst.Type(), len(list), len(list)))
	for i, x := range list {
		fillValue(x, dst.Index(i), fmt.Sprintf("%s[%d]", path, i), f)
	}
}

// showed is a JSON value as it stands in a sentence.
func showed(v any) string {
	switch x := v.(type) {
	case map[string]any:
		return "An object"
	case []any:
		return "A list"
	case string:
		return "“" + meas.Clip(x) + "”"
	}
	return "“" + meas.Clip(fmt.Sprint(v)) + "”"
}
