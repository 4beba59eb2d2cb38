// Runs pack.py inside the engine. Arguments: the engine's folder, pack.py, our modules, and the two files to write.
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [engine, packer, ours, standardOut, oursOut] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(engine, "pyodide.mjs")));
const info = JSON.parse(readFileSync(join(engine, "pyodide-lock.json"), "utf8")).info;
const python = await loadPyodide({ lockFileContents: JSON.stringify({ info, packages: {} }), packageBaseUrl: "/none/" });
const started = python.runPython("import sys; '\\n'.join(sys.modules)");
python.FS.writeFile("/standard.zip", readFileSync(join(engine, "python_stdlib.zip")));
python.FS.writeFile("/ours.zip", readFileSync(ours));
python.FS.writeFile("/pack.py", readFileSync(packer));
python.globals.set("started", started);
python.runPython(`
sys.path.insert(0, "/")
import pack
def read(path):
    with open(path, "rb") as file:
        return file.read()
def write(path, content):
    with open(path, "wb") as file:
        file.write(content)
standard, mine = pack.pack(read("/standard.zip"), read("/ours.zip"), started.split())
write("/standard.out", standard)
write("/mine.out", mine)
`);
writeFileSync(standardOut, python.FS.readFile("/standard.out"));
writeFileSync(oursOut, python.FS.readFile("/mine.out"));
