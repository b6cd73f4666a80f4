// Names that the build puts in place of these words. Every URL is absolute on the app's own origin, with a content hash.
//
// Entry points: app/main.tsx (page), shell/worker.ts (classic worker), shell/scan.worker.ts (classic worker),
// shell/sw.ts (service worker, not hashed, served as /sw.js).

/** Bundle of shell/worker.ts. */
declare const __WORKER_URL__: string;
/** Bundle of shell/scan.worker.ts. */
declare const __SCAN_URL__: string;
/** The engine, pwa/engine compiled to WASM. */
declare const __ENGINE_URL__: string;
/** Go's own wasm_exec.js of the toolchain that compiled the engine. */
declare const __WASM_EXEC_URL__: string;
/** zxing-wasm's reader. */
declare const __ZXING_URL__: string;
/** Hash over everything that is precached: the shell's version. In sw.ts and the worker. */
declare const __VERSION__: string;
/** Everything that the service worker keeps, "/" among it. In sw.ts only. */
declare const __PRECACHE__: string[];
