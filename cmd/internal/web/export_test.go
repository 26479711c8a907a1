package web

// BenchWith gives the benchmarks of this package the commands, which import it.
func BenchWith(ask Ask) { benchAsk = ask }
