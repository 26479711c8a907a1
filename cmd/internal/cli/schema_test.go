package cli

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/schema"
)

// schemaLines are command lines whose answers have to fit the schemas, beside the examples
// of help: what is refused, what is found nowhere, and every kind of answer.
var schemaLines = []string{
	"bands", "bands B3 n78 n263 n254", "bands 1GHz", "channel n78 640001", "channel 1300", "channel n78 7811 --gscn", "channel B46 5200MHz",
	"ca n78:81", "ca CA_n90A", "ca CA_n78(2A)", "ca B3:20 + B7:20 + n78:80@640000,scs=30 + n78:80@645332", "ca 2xn78:80 + n28:10", "ca n80:20", "ca n257:100@2079163 + n257:100@2080829 + B1:20",
	"configs CA_3A-7A", "configs CA_n78(9A)", "configs --with n78 --at-least 9 --kind lte-ca", "configs --with n78,3 --limit 5",
	"throughput n78:100@620000", "throughput B3:20,sinr=14 + n78:80,rsrp=-90 --goodput", "throughput n80:20 + n75:20", "throughput DC_3A-7A_n78A",
	"tbs nr --prb 273 --mcs-table 1024qam --mcs 26 --layers 8", "tbs nr --prb 25 --dmrs-re 36 --mcs-table 64qam-tp --mcs 0 --qm 1", "tbs lte --prb 100 --layers 2 --mcs 26 --subframe 0",
	"frames DDDSU", "frames fdd", "frames 0/0-ext", "frames U", "frames 2/7",
	"field --demo", "site --demo", "sources", "claim --rate 600 --transfer 1GB --in 13.3", "claim --idle-ms 15 --idle-runs 14,15,16", "claim B3:20 --same-site",
}

// compiled compiles the schema of a command.
func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	text := mustRun(t, append([]string{"schema"}, strings.Fields(name)...)...)
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

// askedNames lists the commands that answer in JSON, those below others too.
func askedNames(list []*command.Command, before string) []string {
	var names []string
	for _, c := range list {
		if len(c.Answers) > 0 {
			names = append(names, before+c.Name)
		}
		names = append(names, askedNames(c.Below, before+c.Name+" ")...)
	}
	return names
}

// Every answer fits the schema that the program prints for its command.
func TestAnswersFitTheirSchemas(t *testing.T) {
	lines := slices.Clone(schemaLines)
	for _, c := range everyCommand((&program{}).root()) {
		for _, e := range examples(c.Example) {
			lines = append(lines, strings.TrimPrefix(e.Name, "spectally "))
		}
	}
	tried := map[string]int{}
	schemas := map[string]*jsonschema.Schema{}
	for _, line := range lines {
		name := nameOf(line)
		if name == "" || strings.Contains(line, "--template") || strings.Contains(line, "--geojson") || strings.Contains(line, "--toml") || strings.HasPrefix(line, "batch") || name == "pages" {
			continue
		}
		if schemas[name] == nil {
			schemas[name] = compiled(t, name)
		}
		args := slices.DeleteFunc(strings.Fields(line), func(s string) bool { return s == "--explain" })
		status, out, errs := run(append(args, "--format", "json")...)
		if status > command.Refuted {
			t.Errorf("%s: %s", line, errs)
			continue
		}
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if err != nil {
			t.Errorf("%s: %v", line, err)
			continue
		}
		tried[name]++
		if err := schemas[name].Validate(value); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
	for _, name := range askedNames(described(), "") {
		if tried[name] == 0 && name != "batch" && name != "pages" { // one needs rows of its own, one writes files
			t.Errorf("no answer of %s was held against its schema", name)
		}
	}
}

// nameOf is the name of the command of a line, if it answers in JSON.
func nameOf(line string) string {
	f := strings.Fields(line)
	for n := min(2, len(f)); n > 0; n-- {
		if name := strings.Join(f[:n], " "); slices.Contains(askedNames(described(), ""), name) {
			return name
		}
	}
	return ""
}

// A schema refuses what is not as it says.
func TestSchemasRefuse(t *testing.T) {
	s := compiled(t, "frames")
	var answer map[string]any
	if err := json.Unmarshal([]byte(mustRun(t, "frames", "DDDSU/10:2:2", "--format", "json")), &answer); err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(answer); err != nil {
		t.Fatal(err)
	}
	for field, value := range map[string]any{"valid": "yes", "slots": nil, "more": 1} {
		was, there := answer[field]
		answer[field] = value
		if s.Validate(answer) == nil {
			t.Errorf("%s may be %v", field, value)
		}
		if answer[field] = was; !there {
			delete(answer, field)
		}
	}
	delete(answer, "shares")
	if s.Validate(answer) == nil {
		t.Error("shares may be missing")
	}
}

// property is a field of a schema.
type property struct {
	Type       any                  `json:"type"`
	Items      *property            `json:"items"`
	Properties map[string]*property `json:"properties"`
	Additional any                  `json:"additionalProperties"`
	AnyOf      []*property          `json:"anyOf"`
	Defs       map[string]*property `json:"$defs"`
}

// types are what a value may be, null apart.
func (p *property) types() string {
	switch t := p.Type.(type) {
	case string:
		return t
	case []any:
		return t[0].(string)
	}
	return "object" // one of several, or defined elsewhere
}

// each hands every field below to a function.
func (p *property) each(take func(name string, p *property)) {
	for name, field := range p.Properties {
		take(name, field)
		field.each(take)
	}
	below := p.AnyOf
	if p.Items != nil {
		below = append(below, p.Items)
	}
	for _, d := range p.Defs {
		below = append(below, d)
	}
	for _, b := range below {
		b.each(take)
	}
}

// A name of the vocabulary has one type in every command, and every word of it is used.
func TestVocabularyHolds(t *testing.T) {
	used := map[string]bool{}
	for _, name := range askedNames(described(), "") {
		var s property
		if err := json.Unmarshal([]byte(mustRun(t, append([]string{"schema"}, strings.Fields(name)...)...)), &s); err != nil {
			t.Fatal(err)
		}
		s.each(func(field string, p *property) {
			word, known := schema.Lookup(field)
			used[field] = true
			if got := p.types(); known && got != word.Type && !(word.Type == "number" && got == "integer") {
				t.Errorf("%s: %s is of type %s, in the vocabulary %s", name, field, got, word.Type)
			}
		})
	}
	for _, w := range schema.Vocabulary() {
		if !used[w.Name] {
			t.Errorf("%s is a word of the vocabulary that no command uses", w.Name)
		}
	}
}
