package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"spectally/cmd/internal/golden"
)

// questions are of every kind that can be asked without a command.
var questions = []string{
	"B3:20 + n78:80", "B3:20+n78:80@640000+n78:80@645332", "n78:100", "B3:20", "2xn78:80 + n28:10", "5xn78:100", "n1:20+n75:20+n76:5", "n78:100+n80:30",
	"B1:20+B3:20+B7:20+B20:10+n78:100", "8xn257:100,layers=2", "B3:20@1300 + B3:20@1350", "n77:300",
	"B3:20 + n78:80 --down 612 --up 58 --ping 21/74", "n78:100,pattern=DDDSU/10:2:2 --down 1.1Gbps", "B3:20,layers=2,qam=64 --down 190",
	"B3:20+n78:100 --down 480MB/s --up 900", "B3:20+n78:100 --down 9000", "B3:20+n78:100 --down 1600", "n77:300 --down 30",
	"CA_3A-7A", "DC_3A_n78A", "CA_n78(2A)", "DC_1A-3A-7A_n78A", "CA_n1A-n28A-n78A",
	"B3+n78", "n1+n28+n78", "n75+n76",
	"n78", "B3", "3", "n257", "n84", "B32",
	"C-band", "PCS",
	"3540MHz", "3540.96", "1815 MHz", "28 GHz", "700MHz", "1310.5",
	"3410-3500MHz", "1805-1825", "24250-24300 MHz",
	"640000", "1300", "3540", "2079167",
	"DDDSU", "7DS2U/6:4:4", "2/7",
	"1 GB in 30 s", "700 MiB in 12.5 seconds",
}

// TestQuestions holds the short answers to 12 lines of 80 columns.
func TestQuestions(t *testing.T) {
	t.Setenv("COLUMNS", "80")
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	shown := 0
	for _, q := range questions {
		var out, errs bytes.Buffer
		Run(strings.Fields(q), strings.NewReader(""), &out, &errs)
		all.WriteString("$ spectally " + q + "\n" + out.String() + errs.String() + "\n")
		if errs.Len() > 0 {
			t.Errorf("%s: %s", q, errs.String())
		}
		if head := "$ spectally " + q + "\n"; strings.Contains(string(readme), head) {
			if shown++; !strings.Contains(string(readme), head+out.String()+"```") {
				t.Errorf("README.md shows another answer to %s", q)
			}
		}
		lines := strings.Split(strings.TrimRight(out.String(), "\n"), "\n")
		if len(lines) > 12 {
			t.Errorf("%s takes %d lines", q, len(lines))
		}
		for _, line := range lines {
			if utf8.RuneCountInString(line) > 80 {
				t.Errorf("%s: a line of more than 80 columns: %s", q, line)
			}
		}
	}
	if shown != 1 {
		t.Errorf("README.md shows %d of the questions", shown)
	}
	golden.Check(t, "questions.txt", []byte(all.String()))
}

// TestQuestionValue: in JSON a question has the answer of the command that it stands for.
func TestQuestionValue(t *testing.T) {
	for _, c := range []struct{ question, kind, command string }{
		{"B3:20 + n78:80", "carriers", "ca B3:20 + n78:80"},
		{"CA_3A-7A", "configuration", "ca CA_3A-7A"},
		{"n78", "band", "bands n78"},
		{"C-band", "name", "bands C-band"},
		{"3540MHz", "frequency", "bands 3540MHz"},
		{"3410-3500MHz", "range", "bands n77 n78 B42"},
		{"1300", "channel", "channel 1300"},
		{"DDDSU", "pattern", "frames DDDSU"},
		{"1 GB in 30 s", "transfer", "claim --transfer 1GB --in 30"},
		{"B3+n78", "carriers", "configs --with B3,n78 --only"},
	} {
		var out, command, errs bytes.Buffer
		Run(append(strings.Fields(c.question), "--format", "json"), nil, &out, &errs)
		Run(append(strings.Fields(c.command), "--format", "json"), nil, &command, &errs)
		var got struct {
			Question, Kind string
			Answer         json.RawMessage
		}
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Errorf("%s: %v, %s", c.question, err, errs.String())
			continue
		}
		var a, b bytes.Buffer
		if json.Compact(&a, got.Answer) != nil || json.Compact(&b, command.Bytes()) != nil || a.String() != b.String() {
			t.Errorf("%s: the answer is not that of %s", c.question, c.command)
		}
		if got.Question != c.question || got.Kind != c.kind {
			t.Errorf("%s: question %q of kind %q", c.question, got.Question, got.Kind)
		}
	}
}
