package pages

import (
	"spectally/cmd/internal/question"
	"spectally/cmd/internal/render"
)

const questionName = "question"

// askFields are those of a question without a command.
func askFields() []field {
	return []field{
		{name: questionName, label: "Ask", hint: "carriers, a configuration, a band, a frequency, a channel number, a TDD pattern, a transfer", sample: "B3:20 + n78:80", wide: true, whole: true},
		{name: "down", flag: "--down", label: "Measured down, Mbit/s", hint: "held against the carriers", extra: true, number: true},
		{name: "up", flag: "--up", label: "Measured up, Mbit/s", extra: true, number: true},
		{name: "ping", flag: "--ping", label: "Latency, ms", hint: "idle, or idle/loaded: 21/74", extra: true},
	}
}

// askPage answers a question of any kind shortly.
func askPage() *page {
	return &page{path: "/ask", name: "Ask", title: "Ask",
		lead:   "A short answer to a question of any kind; its page has the rest.",
		fields: askFields(),
		answer: answerQuestion,
		samples: []sample{
			{"question=B3:20 + n78:80", "B3:20 + n78:80"},
			{"question=n78:100&down=1100&up=95&ping=14/41", "a measured rate on n78:100"},
			{"question=DC_1A-3A-7A_n78A", "DC_1A-3A-7A_n78A"},
			{"question=B3 + n78", "B3 + n78"},
			{"question=n78", "n78"},
			{"question=C-band", "C-band"},
			{"question=3540 MHz", "3540 MHz"},
			{"question=3410-3500 MHz", "3410-3500 MHz"},
			{"question=640000", "640000"},
			{"question=DDDSU", "DDDSU"},
			{"question=1 GB in 30 s", "1 GB in 30 s"},
		},
	}
}

func answerQuestion(s *Site, q *query) (*render.Answer, error) {
	measured, err := question.ReadMeasured(q.value("down"), q.value("up"), q.value("ping"))
	if err != nil {
		return nil, err
	}
	asked, err := question.Read(q.value(questionName))
	if err != nil {
		return nil, err
	}
	return question.Answer(asked, measured, func(args []string) (*render.Answer, error) { return s.ask(args, q.reader()) })
}
