package owntable

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"reflect"
	"strings"
)

// WriteJSON writes v as indented JSON with the digits that a float64 needs. Numbers that are not finite become null: JSON has none.
func WriteJSON(w io.Writer, v any) error {
	var plain, indented bytes.Buffer
	if err := finiteJSON(&plain, reflect.ValueOf(v)); err != nil {
		return err
	}
	if err := json.Indent(&indented, plain.Bytes(), "", "  "); err != nil {
		return err
	}
	indented.WriteByte('\n')
	_, err := w.Write(indented.Bytes())
	return err
}

// finiteJSON writes structs field by field, in their order and under their tags' names; embedded structs are written as part of theirs.
func finiteJSON(out *bytes.Buffer, v reflect.Value) error {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			out.WriteString("null")
			return nil
		}
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			out.WriteString("null")
			return nil
		}
		return finiteJSON(out, v.Elem())
	case reflect.Struct:
		out.WriteByte('{')
		first := true
		if err := finiteFields(out, v, &first); err != nil {
			return err
		}
		out.WriteByte('}')
		return nil
	case reflect.Slice:
		if v.IsNil() {
			out.WriteString("null")
			return nil
		}
		out.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				out.WriteByte(',')
			}
			if err := finiteJSON(out, v.Index(i)); err != nil {
				return err
			}
		}
		out.WriteByte(']')
		return nil
	}
	return plainJSON(out, v.Interface())
}

func finiteFields(out *bytes.Buffer, v reflect.Value, first *bool) error {
	for i := range v.NumField() {
		field := v.Type().Field(i)
		name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
		switch {
		case field.Anonymous && name == "":
			if err := finiteFields(out, v.Field(i), first); err != nil {
				return err
			}
			continue
		case !field.IsExported() || name == "-":
			continue
		}
		if !*first {
			out.WriteByte(',')
		}
		*first = false
		if err := plainJSON(out, name); err != nil {
			return err
		}
		out.WriteByte(':')
		if err := finiteJSON(out, v.Field(i)); err != nil {
			return err
		}
	}
	return nil
}

// plainJSON writes what holds no numbers that are not finite, with < and > as they are.
func plainJSON(out *bytes.Buffer, v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	out.Write(bytes.TrimSpace(text.Bytes()))
	return nil
}
