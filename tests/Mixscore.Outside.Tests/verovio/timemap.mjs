// Prints, for each score named, its bars as played with repeats expanded: printed number, place in the file, quarters and milliseconds.
// node timemap.mjs FILE…  →  one line of JSON a file: { file, bars: [{ bar, written, quarters, milliseconds }], quarters, milliseconds }
import { readFileSync } from 'node:fs';
import createModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';

const toolkit = new VerovioToolkit(await createModule());
for (const file of process.argv.slice(2)) {
  toolkit.resetOptions();
  toolkit.setOptions({ expandNever: true, breaks: 'none', xmlIdSeed: 1 });
  const load = () => {
    if (!toolkit.loadData(readFileSync(file, 'utf8'))) throw new Error(`${file} is not read`);
  };
  // Straight through once, for the place of each bar in the file; its identity is the same in both readings.
  load();
  const places = new Map(toolkit.renderToTimemap({ includeMeasures: true }).filter((moment) => moment.measureOn).map((moment, i) => [moment.measureOn, i + 1]));
  toolkit.setOptions({ expandNever: false, expandAlways: true, xmlIdSeed: 1 });
  load();
  const moments = toolkit.renderToTimemap({ includeMeasures: true });
  const bars = moments.filter((moment) => moment.measureOn).map((moment) => ({
    bar: toolkit.getElementAttr(moment.measureOn).n,
    written: places.get(moment.measureOn.replace(/-rend\d+$/, '')) ?? null,
    quarters: moment.qstamp,
    milliseconds: moment.tstamp,
  }));
  const end = moments[moments.length - 1];
  console.log(JSON.stringify({ file, bars, quarters: end.qstamp, milliseconds: end.tstamp }));
}
