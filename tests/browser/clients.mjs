// SPDX-License-Identifier: GPL-3.0-or-later
// Clients that behave badly: half requests, requests byte by byte, far too long ones, nonsense.
// Meanwhile others are answered. Usage: clients.mjs MODULES ADDRESS
import { connect } from "node:net";
import { expect, finish } from "./look.mjs";

const base = process.argv[3];
const { port } = new URL(base);

function dial() {
  const socket = connect(Number(port), "127.0.0.1");
  socket.on("error", () => {});
  return socket;
}

// What comes back for raw bytes, until the server closes.
function raw(bytes) {
  return new Promise((resolve) => {
    const socket = dial();
    let got = "";
    socket.on("data", (piece) => { got += piece; });
    socket.on("close", () => resolve(got));
    socket.end(bytes);
  });
}

const status = (reply) => Number((/^HTTP\/1\.[01] (\d+)/.exec(reply) ?? [])[1] ?? 0);
const head = (path) => `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n`;

async function wants(what, bytes, wanted) {
  const got = status(await raw(bytes));
  expect(what, wanted.includes(got) ? [] : [`${got} in place of ${wanted}`]);
}

async function others(what) {
  const answers = await Promise.all(
    ["hamstrings", "calves", "chest", "quadriceps"].map((goal) =>
      fetch(new URL(`/pick?goal=${goal}&have=hotel-room&format=json`, base)).then((r) => r.json())));
  expect(what, answers.every((each) => each.picks.length > 0) ? [] : ["others are not answered"]);
}

// 0: closed without a word, which is the right of a server that is not spoken to in HTTP.
await wants("a sound request", head("/health") + "\r\n", [200]);
await wants("a long address", head(`/pick?goal=${"a".repeat(10000)}`) + "\r\n", [414]);
await wants("a very long address", head(`/pick?goal=${"a".repeat(200000)}`) + "\r\n", [414, 431, 0]);
await wants("long headers", head("/health") + `X-Long: ${"b".repeat(100000)}\r\n\r\n`, [431, 413, 0]);
await wants("many headers", head("/health") + "X: y\r\n".repeat(20000) + "\r\n", [431, 413, 0]);
await wants("a body said to be long", `POST /answer HTTP/1.1\r\nHost: localhost\r\nContent-Length: 999999999\r\n\r\n{}`, [413]);
await wants("a body that is long",
  `POST /answer HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\nTransfer-Encoding: chunked\r\n\r\n` +
  `10000\r\n${" ".repeat(65536)}\r\n`.repeat(3) + "0\r\n\r\n", [413]);
await wants("nonsense", "\x00\x01\x02 nonsense\r\n\r\n", [400, 405, 0]);
await wants("a length that is none", `POST /answer HTTP/1.1\r\nHost: localhost\r\nContent-Length: -5\r\n\r\n`, [400, 0]);
await wants("another host", "GET /health HTTP/1.1\r\nHost: elsewhere.example\r\nConnection: close\r\n\r\n", [421]);
await wants("another method", `DELETE /pick HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n`, [405]);
await others("after wrong requests");

// More long work than there is room for: some is done, the rest is put off, and short answers do
// not wait for either.
const part = "/without?goal=hamstrings&leave-out=leg-curl-seated-vs-prone-2021&format=json";
const long = Array.from({ length: 12 }, () => fetch(new URL(part, base)));
const began = Date.now();
await others("beside long work");
const took = Date.now() - began;
expect("short answers beside long work", took < 1000 ? [] : [`they took ${took} ms`]);
const ended = await Promise.all(long);
const done = ended.filter((each) => each.status === 200).length;
const putOff = ended.filter((each) => each.status === 503 && Number(each.headers.get("retry-after")) > 0).length;
expect("long work is done or put off", done >= 2 && putOff >= 2 && done + putOff === ended.length ? [] : [`${done} done, ${putOff} put off`]);

// Two hundred that never finish, some of them sending on and on.
const slow = Array.from({ length: 200 }, () => dial());
const closed = Promise.all(slow.map((socket) => new Promise((resolve) => socket.on("close", resolve))));
slow.forEach((socket, i) => socket.write(head("/health").slice(0, 5 + (i % 50))));
const drip = setInterval(() => slow.forEach((socket, i) => i % 2 && !socket.destroyed && socket.write("x")), 500);
await others("beside slow clients");
for (let i = 0; i < 20; i++) await others("beside slow clients, again");
slow.forEach((socket) => socket.resume());
const patience = new Promise((resolve) => setTimeout(resolve, 90000, "late"));
expect("slow clients are let go", (await Promise.race([closed, patience])) === "late" ? ["they are not"] : []);
clearInterval(drip);
await others("after slow clients");
finish();
