//go:build js && wasm

// Browser is the program that answers pages in the browser itself. It gives the script
// that started it one function, from a request to a response, and waits.
package main

import (
	"bytes"
	"fmt"
	"io"
	"runtime/debug"
	"syscall/js"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands"
	"spectally/cmd/internal/commands/site"
	"spectally/cmd/internal/commands/walk"
	"spectally/cmd/internal/pages"
	"spectally/cmd/internal/render"
)

func main() {
	debug.SetGCPercent(400) // a phone has the memory, and its user no time
	list := commands.All(site.Many{}, walk.Files{})
	s := pages.New(func(args []string, input io.Reader) (*render.Answer, error) { return command.Ask(list, args, input) })
	// The script that started the program waits for this function.
	js.Global().Call("spectallyStarted", js.FuncOf(func(_ js.Value, args []js.Value) any { return answer(s, args) }))
	select {}
}

// answer answers a request: its method, path and query, and the type and bytes of its
// body, or null. The response is an object with status, headers (names and values in
// turn) and body.
func answer(s *pages.Site, args []js.Value) any {
	r := &pages.Request{Method: args[0].String(), Path: args[1].String(), Query: args[2].String(), Type: args[3].String()}
	if body := args[4]; !body.IsNull() {
		r.Body = make([]byte, body.Get("length").Int())
		js.CopyBytesToGo(r.Body, body)
	}
	return object(respond(s, r))
}

// respond turns a panic into an answer: the program would end, and the pages with it.
func respond(s *pages.Site, r *pages.Request) (answer *pages.Response) {
	defer func() {
		if err := recover(); err != nil {
			answer = pages.Plain(500, fmt.Sprintf("this could not be answered: the fault is the program's: %v\n", err))
		}
	}()
	return s.Answer(r)
}

// object is a response as an object of JavaScript.
func object(r *pages.Response) any {
	var b bytes.Buffer
	_, _ = r.Body.WriteTo(&b) // a buffer takes all
	body := js.Global().Get("Uint8Array").New(b.Len())
	js.CopyBytesToJS(body, b.Bytes())
	headers := []any{"Content-Type", r.Kind}
	for _, h := range r.Header {
		headers = append(headers, h)
	}
	return map[string]any{"status": r.Status, "headers": headers, "body": body}
}
