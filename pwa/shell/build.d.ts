// What the build (go run ./cmd/build) puts into the code, and how its parts are called.
//
// Entry points, all bundled by esbuild from Go, no configuration file:
//   pwa/app/main.tsx   -> /app-HASH.js (an ES module) and /app-HASH.css (from the css that it imports)
//   pwa/shell/worker.ts -> /worker-HASH.js   a classic script: new Worker(__WORKER_URL__)
//   pwa/shell/scan-worker.ts -> /scan-HASH.js   a classic script: new Worker(__SCAN_URL__)
//   pwa/shell/sw.ts    -> /sw.js             a classic script: navigator.serviceWorker.register('/sw.js', { updateViaCache: 'none' })
//   pwa/shell/rescue.ts and rescue.html (where they exist) -> /rescue-HASH.js and /rescue.html
//   pwa/app/index.html -> /index.html, with {{app.js}}, {{app.css}}, {{worker.js}}, {{engine.wasm}}, {{build}} replaced
//   pwa/engine         -> /engine-HASH.wasm
//   the scanner's wasm -> /zxing_reader-HASH.wasm, for zxing's locateFile: () => __ZXING_URL__
// The toolchain's own glue comes with `import 'go:wasm_exec'`, which sets globalThis.Go.
// JSX is automatic, from preact.

/** Address of the engine, "/engine-HASH.wasm". In worker, app, sw. */
declare const __ENGINE_URL__: string;
/** Address of the worker's script. In app and sw. */
declare const __WORKER_URL__: string;
/** Address of the scanning worker's script. In app, worker and sw. */
declare const __SCAN_URL__: string;
/** Address of the scanner's wasm. Everywhere. */
declare const __ZXING_URL__: string;
/** Everything that works offline, "/" first. In sw alone; an empty list elsewhere. */
declare const __SHELL__: readonly string[];
/** 12 hex digits over everything that the shell is made from: equal in app, worker and sw of one build. */
declare const __BUILD__: string;

declare module 'go:wasm_exec' {}

declare module '*.css' {}

/** The class that the toolchain's glue defines. */
declare class Go {
  argv: string[];
  env: Record<string, string>;
  importObject: WebAssembly.Imports;
  exited: boolean;
  run(instance: WebAssembly.Instance): Promise<void>;
}
