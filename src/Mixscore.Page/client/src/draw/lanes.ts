import { Live } from '../live/live.svelte';
import { gainAt } from '../model/lines';
import type { NightLog } from '../model/night';
import type { Line, Project, Role, Source } from '../model/project';

/** A stretch of a system: one played bar, where it stands on the screen. */
export interface Stretch {
  from: number;
  to: number;
  left: number;
  right: number;
}

/** The inks of a page, from its style sheet. */
export interface Inks {
  ink: string;
  muted: string;
  hair: string;
  accent: string;
  paper: string;
  role: Record<Role, string>;
}

/** How high a lane is, to be read; and to be edited. */
export const laneHeight = 38;
export const editedLaneHeight = 62;
const [highest, lowest] = [8, -32];

/** Where a source's line runs under a system. */
export interface Lane {
  top: number;
  height: number;
}

/** Where a level stands in a lane: 0 LU and 0 dB are one line, so that stem plus ride is what is heard. */
export const placed = (value: number, lane: Lane) => lane.top + 3 + ((highest - Math.max(lowest, Math.min(highest, value))) / (highest - lowest)) * (lane.height - 6);

/** The level that stands at a height. */
export const unplaced = (y: number, lane: Lane) => highest - Math.max(0, Math.min(1, (y - lane.top - 3) / (lane.height - 6))) * (highest - lowest);

export function inks(): Inks {
  const style = getComputedStyle(document.documentElement);
  const of = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: of('--ink'),
    muted: of('--muted'),
    hair: of('--hair'),
    accent: of('--accent'),
    paper: of('--paper'),
    role: { voice: of('--voice'), instrument: of('--instrument'), ambient: of('--ambient') },
  };
}

/** The level lines of some sources under a system, bar under bar, as steps: each draws one source's, in a lane of its own. */
export function laneSteps(
  canvas: CanvasRenderingContext2D,
  project: Project,
  sources: number[],
  stretches: Stretch[],
  heard: Float32Array[],
  colours: Inks,
  height: number,
  night: NightLog | null,
): (() => void)[] {
  return sources.map((index, place) => () => {
    const lane = { top: place * height, height };
    const source = project.sources[index]!;
    drawGround(canvas, stretches, lane, colours);
    for (const stretch of stretches) {
      drawBand(canvas, source, stretch, lane, colours.role[source.role]);
      drawLine(canvas, source.measured, stretch, lane, colours.muted, 1, [1, 2]);
      drawLine(canvas, source.target, stretch, lane, colours.role[source.role], 1, []);
      drawRide(canvas, source, stretch, lane, project.bottom, colours.ink);
      drawHeard(canvas, heard[index]!, stretch, lane, project.reference, colours.accent);
      if (night) drawNight(canvas, night, source, stretch, lane, colours);
    }
  });
}

function drawGround(canvas: CanvasRenderingContext2D, stretches: Stretch[], lane: Lane, colours: Inks): void {
  canvas.strokeStyle = colours.hair;
  canvas.lineWidth = 1;
  canvas.setLineDash([]);
  canvas.beginPath();
  const first = stretches[0];
  const last = stretches[stretches.length - 1];
  if (!first || !last) return;
  const zero = Math.round(placed(0, lane)) + 0.5;
  canvas.moveTo(first.left, zero);
  canvas.lineTo(last.right, zero);
  for (const stretch of stretches) {
    const x = Math.round(stretch.left) + 0.5;
    canvas.moveTo(x, lane.top + 2);
    canvas.lineTo(x, lane.top + lane.height - 2);
  }
  canvas.stroke();
}

export const across = (stretch: Stretch, at: number) => stretch.left + ((stretch.right - stretch.left) * (at - stretch.from)) / (stretch.to - stretch.from);

/** The parts of a line that lie in a stretch, cut at its edges. */
export function pieces(line: Line, from: number, to: number): [number, number][][] {
  const found: [number, number][][] = [];
  let piece: [number, number][] = [];
  const close = () => {
    if (piece.length > 1) found.push(piece);
    piece = [];
  };
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [x1, y1, x2, y2] = [line[i] as number, line[i + 1] ?? null, line[i + 2] as number, line[i + 3] ?? null];
    if (x2 <= from || y1 === null || y2 === null) {
      if (x2 > from) close();
      continue;
    }
    if (x1 >= to) break;
    const at = (x: number) => (x2 > x1 ? y1 + ((y2 - y1) * (x - x1)) / (x2 - x1) : y2);
    if (piece.length === 0) piece.push([Math.max(x1, from), at(Math.max(x1, from))]);
    piece.push([Math.min(x2, to), at(Math.min(x2, to))]);
  }
  close();
  return found;
}

function drawBand(canvas: CanvasRenderingContext2D, source: Source, stretch: Stretch, lane: Lane, colour: string): void {
  const lows = pieces(source.low, stretch.from, stretch.to);
  const highs = pieces(source.high, stretch.from, stretch.to);
  canvas.fillStyle = colour;
  canvas.globalAlpha = 0.2;
  for (let i = 0; i < Math.min(lows.length, highs.length); i++) {
    canvas.beginPath();
    for (const [at, value] of highs[i]!) canvas.lineTo(across(stretch, at), placed(value, lane));
    for (const [at, value] of [...lows[i]!].reverse()) canvas.lineTo(across(stretch, at), placed(value, lane));
    canvas.closePath();
    canvas.fill();
  }
  canvas.globalAlpha = 1;
}

function drawLine(canvas: CanvasRenderingContext2D, line: Line, stretch: Stretch, lane: Lane, colour: string, width: number, dash: number[]): void {
  canvas.strokeStyle = colour;
  canvas.lineWidth = width;
  canvas.setLineDash(dash);
  for (const piece of pieces(line, stretch.from, stretch.to)) {
    canvas.beginPath();
    for (const [at, value] of piece) canvas.lineTo(across(stretch, at), placed(value, lane));
    canvas.stroke();
  }
  canvas.setLineDash([]);
}

/** The ride, with a dot at each vertex; where it is off it is not drawn. */
function drawRide(canvas: CanvasRenderingContext2D, source: Source, stretch: Stretch, lane: Lane, bottom: number, colour: string): void {
  const points: [number, number | null][] = [[stretch.from, gainAt(source.ride, stretch.from, bottom)]];
  for (let i = 0; i < source.ride.length; i += 2) {
    const at = source.ride[i] as number;
    if (at > stretch.from && at < stretch.to) points.push([at, source.ride[i + 1] ?? null]);
  }
  points.push([stretch.to, gainAt(source.ride, stretch.to, bottom)]);
  canvas.strokeStyle = canvas.fillStyle = colour;
  canvas.lineWidth = 1.6;
  canvas.lineJoin = 'round';
  for (let i = 0; i + 1 < points.length; i++) {
    const [from, a] = points[i]!;
    const [to, b] = points[i + 1]!;
    if (a === null && b === null) continue;
    canvas.beginPath();
    canvas.moveTo(across(stretch, from), placed(a ?? lowest, lane));
    canvas.lineTo(across(stretch, to), placed(b ?? lowest, lane));
    canvas.stroke();
  }
  for (let i = 0; i < source.ride.length; i += 2) {
    const at = source.ride[i] as number;
    const gain = source.ride[i + 1] ?? null;
    if (at < stretch.from || at >= stretch.to || gain === null) continue;
    canvas.beginPath();
    canvas.arc(across(stretch, at), placed(gain, lane), 2.2, 0, 2 * Math.PI);
    canvas.fill();
  }
}

function drawHeard(canvas: CanvasRenderingContext2D, heard: Float32Array, stretch: Stretch, lane: Lane, reference: number, colour: string): void {
  const per = Live.heardPerQuarter;
  canvas.strokeStyle = colour;
  canvas.lineWidth = 1.4;
  canvas.beginPath();
  let drawing = false;
  for (let i = Math.ceil(stretch.from * per); i <= stretch.to * per; i++) {
    const level = heard[i]!;
    if (!(level - reference > lowest)) {
      drawing = false;
      continue;
    }
    const [x, y] = [across(stretch, i / per), placed(level - reference, lane)];
    if (drawing) canvas.lineTo(x, y);
    else canvas.moveTo(x, y);
    drawing = true;
  }
  canvas.stroke();
}

/** What hands did to a source in a night, and where its feed was gone. */
function drawNight(canvas: CanvasRenderingContext2D, night: NightLog, source: Source, stretch: Stretch, lane: Lane, colours: Inks): void {
  const told = night.sources.find((one) => one.name === source.name);
  if (!told) return;
  canvas.strokeStyle = colours.ink;
  canvas.lineWidth = 1;
  for (const [from, to] of told.drops) {
    const [left, right] = [across(stretch, Math.max(from, stretch.from)), across(stretch, Math.min(to, stretch.to))];
    for (let x = left; x < right; x += 5) {
      canvas.beginPath();
      canvas.moveTo(x, lane.top + lane.height - 3);
      canvas.lineTo(Math.min(x + 5, right), lane.top + lane.height - 9);
      canvas.stroke();
    }
  }
  for (const hand of told.hands) {
    // Off is drawn at the foot of the lane: a hand that shuts a fader is seen to.
    const line = hand.map((value, i) => (i % 2 ? (value ?? lowest) : value));
    drawLine(canvas, line, stretch, lane, colours.accent, 2.6, [7, 3]);
    canvas.fillStyle = colours.accent;
    for (const i of [0, line.length - 2]) {
      const at = line[i] as number;
      if (at < stretch.from || at >= stretch.to) continue;
      canvas.fillRect(across(stretch, at) - 3, placed(line[i + 1] as number, lane) - 3, 6, 6);
    }
  }
  for (const { line } of night.suggests?.proposals.filter((one) => one.source === source.name) ?? []) drawSuggested(canvas, line, stretch, lane, colours);
}

/** A level that a night suggests: a broad line with an end at either side, through which all else is seen. */
function drawSuggested(canvas: CanvasRenderingContext2D, line: Line, stretch: Stretch, lane: Lane, colours: Inks): void {
  canvas.globalAlpha = 0.4;
  drawLine(canvas, line, stretch, lane, colours.accent, 7, []);
  canvas.globalAlpha = 1;
  canvas.fillStyle = colours.accent;
  for (const i of [0, line.length - 2]) {
    const at = line[i] as number;
    const isHere = i === 0 ? stretch.from <= at && at < stretch.to : stretch.from < at && at <= stretch.to;
    if (isHere) canvas.fillRect(across(stretch, at) - 1, placed(line[i + 1] as number, lane) - 8, 2, 16);
  }
}
