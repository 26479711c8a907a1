//go:build js && wasm

// Empty is the emptiest program that can stand in the place of browser: what that takes
// to start is measured against it.
package main

import "syscall/js"

func main() {
	page := []byte("<!DOCTYPE html><title>empty</title><body><main>empty</main><footer></footer>")
	js.Global().Call("spectallyStarted", js.FuncOf(func(js.Value, []js.Value) any {
		body := js.Global().Get("Uint8Array").New(len(page))
		js.CopyBytesToJS(body, page)
		return map[string]any{"status": 200, "headers": []any{"Content-Type", "text/html; charset=utf-8"}, "body": body}
	}))
	select {}
}
