package schema

import (
	"flag"
	"os"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the table in DEVELOPERS.md anew; read the difference")

const (
	developers = "../../../DEVELOPERS.md"
	tableHead  = "| name | type | unit | meaning |\n| --- | --- | --- | --- |\n"
)

// DEVELOPERS.md has the vocabulary, word for word.
func TestDevelopersHaveTheVocabulary(t *testing.T) {
	text, err := os.ReadFile(developers)
	if err != nil {
		t.Fatal(err)
	}
	var want strings.Builder
	for _, w := range Vocabulary() {
		want.WriteString("| `" + w.Name + "` | " + w.Type + " | " + w.Unit + " | " + w.What + " |\n")
	}
	before, rest, ok := strings.Cut(string(text), tableHead)
	has, after, end := strings.Cut(rest, "\n\n")
	if !ok || !end {
		t.Fatal("DEVELOPERS.md has no table of the vocabulary")
	}
	if has+"\n" == want.String() {
		return
	}
	if !*update {
		t.Fatal("the table in DEVELOPERS.md is not that of the program: -update writes it")
	}
	if err := os.WriteFile(developers, []byte(before+tableHead+want.String()+"\n"+after), 0o666); err != nil {
		t.Fatal(err)
	}
}

func TestVocabularyIsInOrder(t *testing.T) {
	if !slices.IsSortedFunc(Vocabulary(), func(a, b Word) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the words are not in the order of their names")
	}
	for i, w := range Vocabulary() {
		if w.What == "" || i > 0 && Vocabulary()[i-1].Name == w.Name {
			t.Errorf("%s has no meaning, or two", w.Name)
		}
	}
}
