package calc

import (
	"bytes"
	"encoding/json"
	"io"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// largestRequest is far above the longest formula, and small enough to read at once.
const largestRequest = 1 << 20

// typed is a figure as a person or a program writes it: a JSON string or number, kept as its text.
type typed string

// UnmarshalJSON keeps the text of a number, so that 0.1 stays one tenth.
func (t *typed) UnmarshalJSON(b []byte) error {
	if len(b) > 0 && b[0] != '"' {
		*t = typed(b)
		return nil
	}
	var s string
	err := json.Unmarshal(b, &s)
	*t = typed(s)
	return err
}

var typedType = reflect.TypeFor[typed]()

// strict reads one JSON value into v, a pointer to a struct. Unlike the plain decoder it tells the whole path of a field that is unknown,
// repeated, null or of the wrong kind, takes no other spelling of a name, and nothing after the value.
func strict(data []byte, v any) *FieldError {
	switch {
	case len(data) > largestRequest:
		return &FieldError{Says: "the request is longer than 1 MiB", Want: "send less at once"}
	case !utf8.Valid(data):
		return &FieldError{Says: "the request is not UTF-8", Want: "send JSON in UTF-8"}
	case len(bytes.TrimSpace(data)) == 0:
		return &FieldError{Says: "the request is empty", Want: "send JSON; -example shows a worked one"}
	}
	r := strictReader{json.NewDecoder(bytes.NewReader(data))}
	r.dec.UseNumber()
	if err := r.value(reflect.TypeOf(v).Elem(), ""); err != nil {
		return err
	}
	if _, err := r.dec.Token(); err != io.EOF {
		return &FieldError{Says: "something stands behind the end of the request", Want: "send one JSON value"}
	}
	if err := json.Unmarshal(data, v); err != nil {
		return &FieldError{Says: "the request could not be read: " + err.Error(), Want: "-example shows a worked one"}
	}
	return nil
}

type strictReader struct{ dec *json.Decoder }

func (r strictReader) token(path string) (json.Token, *FieldError) {
	tok, err := r.dec.Token()
	if err != nil {
		says := "the request is not JSON at byte " + strconv.FormatInt(r.dec.InputOffset(), 10)
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			says = "the request ends too soon"
		}
		return nil, &FieldError{Field: path, Says: says, Want: "send one JSON object; -example shows a worked one"}
	}
	return tok, nil
}

func (r strictReader) value(t reflect.Type, path string) *FieldError {
	tok, err := r.token(path)
	if err != nil {
		return err
	}
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	wrong := &FieldError{Field: path, Says: "this is not " + kindName(t), Want: "write " + kindName(t)}
	switch x := tok.(type) {
	case json.Delim:
		switch {
		case x == '{' && t.Kind() == reflect.Struct:
			return r.object(t, path)
		case x == '[' && t.Kind() == reflect.Slice:
			for i := 0; r.dec.More(); i++ {
				if err := r.value(t.Elem(), path+"["+strconv.Itoa(i)+"]"); err != nil {
					return err
				}
			}
			_, err := r.token(path)
			return err
		}
		return wrong
	case string:
		if t == typedType || t.Kind() == reflect.String {
			return nil
		}
	case json.Number:
		if t == typedType {
			return nil
		}
		if t.Kind() == reflect.Int {
			if n, e := strconv.ParseInt(x.String(), 10, 32); e == nil && n >= 0 {
				return nil
			}
		}
	case bool:
		if t.Kind() == reflect.Bool {
			return nil
		}
	}
	return wrong
}

func (r strictReader) object(t reflect.Type, path string) *FieldError {
	fields := map[string]reflect.Type{}
	var names []string
	fieldsOf(t, fields, &names)
	seen := map[string]bool{}
	for r.dec.More() {
		tok, err := r.token(path)
		if err != nil {
			return err
		}
		name, ok := tok.(string)
		if !ok {
			return &FieldError{Field: path, Says: "a field has no name", Want: "fields: " + strings.Join(names, ", ")}
		}
		at := name
		if path != "" {
			at = path + "." + name
		}
		field, known := fields[name]
		switch {
		case !known:
			return &FieldError{Field: short2(at), Says: "there is no field of this name here", Want: "fields: " + strings.Join(names, ", ")}
		case seen[name]:
			return &FieldError{Field: at, Says: "this field stands here twice", Want: "write it once"}
		}
		seen[name] = true
		if err := r.value(field, at); err != nil {
			return err
		}
	}
	_, err := r.token(path)
	return err
}

func short2(path string) string {
	if len(path) > 200 {
		return strings.ToValidUTF8(path[:200], "") + "…"
	}
	return path
}

// fieldsOf lists the JSON fields of a struct, those of embedded structs included, in their order.
func fieldsOf(t reflect.Type, into map[string]reflect.Type, names *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" {
			fieldsOf(f.Type, into, names)
			continue
		}
		if name == "" || name == "-" {
			continue
		}
		into[name] = f.Type
		*names = append(*names, name)
	}
}

func kindName(t reflect.Type) string {
	switch {
	case t == typedType:
		return "a figure or a text"
	case t.Kind() == reflect.Struct:
		return "a set of fields in { }"
	case t.Kind() == reflect.Slice:
		return "a list in [ ]"
	case t.Kind() == reflect.Bool:
		return "true or false"
	case t.Kind() == reflect.Int:
		return "a whole number of 0 or more"
	}
	return "a text in quotes"
}
