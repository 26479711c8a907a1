// Package schema writes the JSON Schema of what a command answers, from the type of the
// answer. Names, types, units and meanings that answers share stand in its vocabulary.
package schema

import (
	"bytes"
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/quantity"
)

// Draft is the version of JSON Schema that the schemas are in.
const Draft = "https://json-schema.org/draft/2020-12/schema"

// Schema is a schema of JSON Schema.
type Schema struct {
	Draft       string     `json:"$schema,omitempty"`
	Title       string     `json:"title,omitempty"`
	Description string     `json:"description,omitempty"`
	Type        any        `json:"type,omitempty"` // a name, or a list of two for what may be null
	Items       *Schema    `json:"items,omitempty"`
	Properties  Properties `json:"properties,omitempty"`
	Required    []string   `json:"required,omitempty"`
	Additional  any        `json:"additionalProperties,omitempty"` // false, or the schema of every other property
	AnyOf       []*Schema  `json:"anyOf,omitempty"`
	Ref         string     `json:"$ref,omitempty"`
	// Defs are types that have values of their own type in them.
	Defs map[string]*Schema `json:"$defs,omitempty"`
}

// Properties are the properties of an object in their order.
type Properties []Property

// Property is a property of an object.
type Property struct {
	Name string
	*Schema
}

// MarshalJSON implements json.Marshaler.
func (p Properties) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i := range p {
		text, err := json.Marshal(p[i].Schema)
		if err != nil {
			return nil, err
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Quote(p[i].Name) + ":")
		b.Write(text)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// Fields is a value that JSON shows as an object with these fields, whose types are those
// of the vocabulary. A field may be null.
type Fields interface{ Fields() []string }

// Keyed is a value that JSON shows as an object with keys of its own, and values like the
// element.
type Keyed interface{ Element() any }

// Of makes the schema of what a command answers: a value like one of the samples.
func Of(title string, samples ...any) *Schema {
	b := builder{open: map[reflect.Type]bool{}, defs: map[string]*Schema{}}
	s := &Schema{}
	if len(samples) == 1 {
		s = b.of(reflect.TypeOf(samples[0]))
	} else {
		for _, sample := range samples {
			s.AnyOf = append(s.AnyOf, b.of(reflect.TypeOf(sample)))
		}
	}
	s.Draft, s.Title, s.Defs = Draft, title, b.defs
	return s
}

// builder makes a schema. A type that is met again while it is open, as it has values of
// its own type in it, is defined once and referred to.
type builder struct {
	open map[reflect.Type]bool // and whether it was met again
	defs map[string]*Schema
}

func (b *builder) structure(t reflect.Type) *Schema {
	ref := &Schema{Ref: "#/$defs/" + t.Name()}
	if _, again := b.open[t]; again {
		b.open[t] = true
		return ref
	}
	if b.defs[t.Name()] != nil {
		return ref
	}
	b.open[t] = false
	s := &Schema{Type: "object", Additional: false}
	b.addFields(s, t, false)
	recursive := b.open[t]
	delete(b.open, t)
	if !recursive {
		return s
	}
	b.defs[t.Name()] = s
	return ref
}

var (
	exact      = reflect.TypeFor[figures.Figure]()
	decimal    = reflect.TypeFor[quantity.Decimal]()
	asText     = reflect.TypeFor[encoding.TextMarshaler]()
	withFields = reflect.TypeFor[Fields]()
	keyed      = reflect.TypeFor[Keyed]()
)

func (b *builder) of(t reflect.Type) *Schema {
	switch {
	case t == exact:
		return &Schema{Type: "number"}
	case t == decimal:
		return &Schema{Type: []string{"number", "null"}}
	case t.Kind() == reflect.Pointer:
		return b.of(t.Elem()).orNull()
	case reflect.PointerTo(t).Implements(withFields):
		return object(reflect.New(t).Interface().(Fields).Fields())
	case t.Implements(keyed):
		return &Schema{Type: "object", Additional: b.of(reflect.TypeOf(reflect.Zero(t).Interface().(Keyed).Element()))}
	case t.Implements(asText):
		return &Schema{Type: "string"}
	}
	switch t.Kind() {
	case reflect.String:
		return &Schema{Type: "string"}
	case reflect.Bool:
		return &Schema{Type: "boolean"}
	case reflect.Float64, reflect.Float32:
		return &Schema{Type: "number"}
	case reflect.Slice, reflect.Array:
		return &Schema{Type: "array", Items: b.of(t.Elem())}
	case reflect.Map:
		return &Schema{Type: "object", Additional: b.of(t.Elem())}
	case reflect.Struct:
		return b.structure(t)
	case reflect.Interface:
		return &Schema{}
	}
	return &Schema{Type: "integer"}
}

// orNull is the schema of a value that may also be null.
func (s *Schema) orNull() *Schema {
	switch name, ok := s.Type.(string); {
	case ok:
		s.Type = []string{name, "null"}
	case s.Ref != "":
		return &Schema{AnyOf: []*Schema{s, {Type: "null"}}}
	}
	return s
}

// addFields adds the fields of a struct, those of structs in it as encoding/json does.
func (b *builder) addFields(s *Schema, t reflect.Type, inner bool) {
	for f := range t.Fields() {
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-", !f.IsExported() && !f.Anonymous:
			continue
		case f.Anonymous && name == "":
			if f.Type.Kind() == reflect.Pointer { // none of its fields is there where it is nil
				required := s.Required
				b.addFields(s, f.Type.Elem(), true)
				s.Required = required
			} else {
				b.addFields(s, f.Type, true)
			}
			continue
		case name == "":
			name = f.Name
		}
		p := b.of(f.Type)
		p.describe(name)
		if i := slices.IndexFunc(s.Properties, func(p Property) bool { return p.Name == name }); i >= 0 {
			if !inner { // an outer field hides that of a struct in it
				s.Properties[i].Schema = p
			}
			continue
		}
		s.Properties = append(s.Properties, Property{name, p})
		if !strings.Contains(rest, "omitempty") && !strings.Contains(rest, "omitzero") {
			s.Required = append(s.Required, name)
		}
	}
}

// object is the schema of an object whose fields the vocabulary has.
func object(fields []string) *Schema {
	s := &Schema{Type: "object", Additional: false, Required: fields}
	for _, name := range fields {
		word, _ := Lookup(name)
		p := (&Schema{Type: word.Type}).orNull()
		p.describe(name)
		s.Properties = append(s.Properties, Property{name, p})
	}
	return s
}

// describe says what a field means, where the vocabulary has it.
func (s *Schema) describe(name string) {
	if word, ok := Lookup(name); ok {
		s.Description = word.String()
	}
}
