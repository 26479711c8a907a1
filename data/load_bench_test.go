package data

import "testing"

func BenchmarkLoad(b *testing.B) {
	for _, name := range Names() {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Load(name); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
