//go:build js && wasm

// Command engine is Stillroom's rules inside the browser. It opens one door, globalThis.stillroom.call, and does
// nothing by itself: every clock reading and every random byte comes in with a call.
package main

import (
	"syscall/js"

	"stillroom/pwa/engine/door"
)

func main() {
	d := door.New()
	call := js.FuncOf(func(_ js.Value, args []js.Value) any {
		var request []byte
		if len(args) == 1 && args[0].InstanceOf(js.Global().Get("Uint8Array")) {
			request = make([]byte, args[0].Get("length").Int())
			js.CopyBytesToGo(request, args[0])
		}
		answer := d.Call(request)
		out := js.Global().Get("Uint8Array").New(len(answer))
		js.CopyBytesToJS(out, answer)
		return out
	})
	js.Global().Set("stillroom", js.ValueOf(map[string]any{"call": call}))
	select {}
}
