// Answers questions with the desk's own files. Arguments: the engine's folder, a folder with the parts and questions.json.
import { createHash } from "node:crypto";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [engine, place] = process.argv.slice(2);
for (const name of ["pyodide.mjs", "pyodide.asm.mjs", "pyodide-lock.json"]) copyFileSync(join(engine, name), join(place, name));
copyFileSync(join(place, "engine"), join(place, "pyodide.asm.wasm"));
copyFileSync(join(place, "python"), join(place, "python_stdlib.zip"));
const { loadPyodide } = await import(pathToFileURL(join(place, "pyodide.mjs")));
const info = JSON.parse(readFileSync(join(engine, "pyodide-lock.json"), "utf8")).info;
const python = await loadPyodide({ lockFileContents: JSON.stringify({ info, packages: {} }), packageBaseUrl: "/none/" });
python.FS.writeFile("/ours.zip", readFileSync(join(place, "ours")));
python.FS.writeFile("/kit.json", readFileSync(join(place, "kit")));
python.runPython(`
import sys
sys.path.insert(0, "/ours.zip")
from fingerpost.desk.api import open_door
with open("/kit.json", encoding="utf-8") as file:
    door = open_door(file.read())
`);
const ask = python.runPython("door.answer");
const questions = JSON.parse(readFileSync(join(place, "questions.json"), "utf8"));
// The sheets of hundreds of cases are large: what is compared is their hash.
const short = (answer) => (answer.html ? { ...answer, html: createHash("sha256").update(answer.html).digest("hex") } : answer);
const answers = questions.map((question) => short(JSON.parse(ask(JSON.stringify(question)))));
writeFileSync(join(place, "answers.json"), JSON.stringify(answers));
