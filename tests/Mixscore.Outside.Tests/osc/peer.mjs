// The other end of the OSC tests: osc-min decodes packets, or makes random ones. Each packet is told in one line of plain text,
// which the test writes the same way from its own reading.
//   node peer.mjs decode            hexadecimal packets on standard input, a line each
//   node peer.mjs encode COUNT SEED a line each: the packet in hexadecimal, a tab, its text
import { createInterface } from "node:readline";
import { fromBuffer, toBuffer } from "osc-min";

const hex = (bytes) => Buffer.from(bytes).toString("hex");
const bits = (size, set) => {
  const view = new DataView(new ArrayBuffer(size));
  set(view);
  return hex(new Uint8Array(view.buffer));
};
const tag = ([seconds, fraction]) => `${seconds}.${fraction}`;

function argument({ type, value }) {
  switch (type) {
    case "integer": return `i:${value}`;
    case "bigint": return `h:${value}`;
    case "float": return Number.isNaN(value) ? "f:nan" : `f:${bits(4, (v) => v.setFloat32(0, value))}`;
    case "double": return Number.isNaN(value) ? "d:nan" : `d:${bits(8, (v) => v.setFloat64(0, value))}`;
    case "string": return `s:${hex(Buffer.from(value, "utf8"))}`;
    case "symbol": return `S:${hex(Buffer.from(value, "utf8"))}`;
    case "blob": return `b:${hex(new Uint8Array(value.buffer ?? value, value.byteOffset ?? 0, value.byteLength))}`;
    case "timetag": return `t:${tag(value)}`;
    case "character": return `c:${value.codePointAt(0)}`;
    case "color": return `r:${hex([value.red, value.green, value.blue, value.alpha])}`;
    case "midi": return `m:${hex(value)}`;
    case "true": return "T";
    case "false": return "F";
    case "null": return "N";
    case "bang": return "I";
    case "array": return `[${value.map(argument).join(" ")}]`;
    default: throw new Error(`a type that OSC 1.0 does not have: ${type}`);
  }
}

const text = (packet) => packet.oscType === "bundle"
  ? `{${[tag(packet.timetag), ...packet.elements.map(text)].join(";")}}`
  : `${packet.address}(${packet.args.map(argument).join(" ")})`;

// mulberry32, so that a failure can be had again.
function generator(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return (t ^ (t >>> 14)) >>> 0;
  };
}

function maker(seed) {
  const next = generator(seed);
  const upTo = (count) => next() % count;
  const many = (count, make) => Array.from({ length: count }, make);
  const word = () => many(upTo(9), () => ["a", "k", "z", "é", "→", "🎻", " ", '"'][upTo(8)]).join("");
  const wide = () => (BigInt(next() | 0) << 32n) | BigInt(next());
  const real = (size) => {
    const view = new DataView(new ArrayBuffer(8));
    view.setUint32(0, next());
    view.setUint32(4, next());
    return size === 4 ? view.getFloat32(0) : view.getFloat64(0);
  };
  const flat = [
    () => ({ type: "integer", value: next() | 0 }),
    () => ({ type: "bigint", value: BigInt.asIntN(64, wide()) }),
    () => ({ type: "float", value: real(4) }),
    () => ({ type: "double", value: real(8) }),
    () => ({ type: "string", value: word() }),
    () => ({ type: "symbol", value: word() }),
    () => ({ type: "blob", value: Uint8Array.from(many(upTo(10), () => upTo(256))) }),
    () => ({ type: "timetag", value: [next(), next()] }),
    () => ({ type: "character", value: String.fromCharCode(1 + upTo(0xd7fe)) }),
    // No colour: osc-min 2.1.2 writes eight bytes too many behind one, which no reader can make sense of. It reads them well.
    () => ({ type: "midi", value: many(4, () => upTo(256)) }),
    () => ({ type: "true", value: true }),
    () => ({ type: "false", value: false }),
    () => ({ type: "null", value: null }),
    () => ({ type: "bang", value: "bang" }),
  ];
  const one = () => flat[upTo(flat.length)]();
  const any = () => (upTo(8) === 0 ? { type: "array", value: many(upTo(4), one) } : one());
  const message = () => ({
    oscType: "message",
    address: many(1 + upTo(3), () => `/${many(1 + upTo(6), () => "abcxyz019-_."[upTo(12)]).join("")}`).join(""),
    args: many(upTo(7), any),
  });
  const bundle = (depth, seconds) => ({
    oscType: "bundle",
    timetag: [seconds, next()],
    elements: many(upTo(5), () => (depth < 3 && upTo(3) === 0 ? bundle(depth + 1, seconds + 1) : message())),
  });
  return () => (upTo(2) === 0 ? message() : bundle(1, upTo(4_000_000_000)));
}

const [, , mode, count, seed] = process.argv;
if (mode === "encode") {
  const make = maker(Number(seed));
  const lines = [];
  for (let i = 0; i < Number(count); i++) {
    const packet = make();
    const bytes = toBuffer(packet);
    lines.push(`${hex(new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength))}\t${text(packet)}`);
  }
  process.stdout.write(lines.join("\n") + "\n");
} else {
  const lines = [];
  for await (const line of createInterface({ input: process.stdin })) lines.push(text(fromBuffer(Buffer.from(line, "hex"))));
  process.stdout.write(lines.join("\n") + "\n");
}
