"use strict";
// The engine: Python in this page. Everything it needs is loaded once, from this site or this folder, and then no more.
desk.engine = (() => {
  const parts = desk.data.parts, got = {}, waiting = {};
  const total = Object.values(parts).reduce((sum, part) => sum + part.size, 0);
  const fromFolder = location.protocol === "file:";
  let ask = null, arrived = 0, tell = () => {};

  desk.given = (kind, content) => {
    const bytes = Uint8Array.from(atob(content), (sign) => sign.charCodeAt(0));
    count(bytes.length);
    waiting[kind](bytes);
  };

  function count(size) {
    arrived += size;
    tell(Math.min(99, Math.round((100 * arrived) / total)));
  }

  const loadScript = (address) => new Promise((done, failed) => {
    document.head.append(desk.make("script", { src: address, onload: done, onerror: () => failed(new Error("script")) }));
  });

  async function fetchPart(name) {
    const answer = await fetch(`parts/${name}.bin`);
    if (!answer.ok) throw new Error("part");
    const reader = answer.body.getReader(), pieces = [];
    for (let step = await reader.read(); !step.done; step = await reader.read()) {
      pieces.push(step.value);
      count(step.value.length);
    }
    return new Uint8Array(await new Blob(pieces).arrayBuffer());
  }

  // Unpacked, unless the host has done so already.
  async function unpack(bytes) {
    if (bytes[0] !== 0x1f || bytes[1] !== 0x8b) return bytes;
    const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Uint8Array(await new Response(plain).arrayBuffer());
  }

  // The engine as it is, where the host packs it by itself or is this computer: then a browser keeps it compiled, and
  // starts in half the time. Anywhere else it comes packed by us.
  async function openEngine() {
    if (fromFolder) return null;
    const answer = await fetch(`parts/${parts.engine.name}.wasm`), told = answer.headers;
    const quick = told.has("Content-Encoding") || ["127.0.0.1", "localhost"].includes(location.hostname);
    if (answer.ok && quick && told.get("Content-Type")?.startsWith("application/wasm")) return answer;
    await answer.body?.cancel();
    return null;
  }

  async function load(kind) {
    const name = parts[kind].name;
    if (kind === "engine") {
      got.stream = await openEngine();
      if (got.stream) return count(parts.engine.size);
    }
    const bytes = fromFolder
      ? await new Promise((done, failed) => { waiting[kind] = done; loadScript(`parts/${name}.js`).catch(failed); })
      : await fetchPart(name);
    got[kind] = await unpack(bytes);
  }

  // The engine asks for its two files by name and gets what was loaded above.
  async function startPython() {
    const files = { "pyodide.asm.wasm": ["engine", "application/wasm"], "python_stdlib.zip": ["python", "application/zip"] };
    const own = globalThis.fetch;
    globalThis.fetch = (address, options) => {
      const file = files[String(address).split("/").pop()];
      if (file?.[0] === "engine" && got.stream) return Promise.resolve(got.stream);
      return file ? Promise.resolve(new Response(got[file[0]], { headers: { "Content-Type": file[1] } })) : own(address, options);
    };
    const info = { abi_version: "2026_0", arch: "wasm32", platform: "emscripten_5_0_3", python: "3.14.2" };
    try {
      return await loadPyodide({
        indexURL: new URL("engine/", document.baseURI).href,
        packageBaseUrl: new URL("engine/", document.baseURI).href,
        createPyodideModule: _createPyodideModule,
        lockFileContents: JSON.stringify({ info, packages: {} }),
        stdin: () => null, stdout: () => {}, stderr: () => {},
      });
    } finally {
      globalThis.fetch = own;
    }
  }

  async function start(progress) {
    tell = progress;
    const scripts = ["engine/pyodide.js", "engine/pyodide.asm.js"].map(loadScript);
    await Promise.all([...Object.keys(parts).map(load), ...scripts]);
    const python = await startPython();
    python.FS.writeFile("/ours.zip", got.ours);
    python.FS.writeFile("/kit.json", got.kit);
    python.runPython(`
import sys
sys.path.insert(0, "/ours.zip")
from fingerpost.desk.api import open_door
with open("/kit.json", encoding="utf-8") as file:
    door = open_door(file.read())
`);
    ask = python.runPython("door.answer");
    const styles = new TextDecoder().decode(got.styles);
    Object.keys(got).forEach((kind) => delete got[kind]);
    return styles;
  }

  // One question, one answer, at once. A fault of the program comes back as { fault }.
  function answer(question) {
    try {
      return JSON.parse(ask(JSON.stringify({ today: desk.today(), ...question })));
    } catch (error) {
      return { fault: error.constructor.name };
    }
  }

  const works = () => typeof WebAssembly === "object" && typeof DecompressionStream === "function";
  return { start, answer, works };
})();
