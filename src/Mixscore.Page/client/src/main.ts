import './style.css';
import type { Ask } from './engrave/engraver.worker';
import { readProject } from './model/read';
import { kept } from './view/kept';

// What takes long is begun before the page itself is read: the engraver, the score and the project come meanwhile.
const engraver = location.pathname === '/call' ? null : new Worker(new URL('./engrave/engraver.worker.ts', import.meta.url), { type: 'module' });
// It begins before the page knows how wide it is, but not where a first system that was kept is shown: it would be in its way.
if (!kept().systems) engraver?.postMessage({ kind: 'begin' } satisfies Ask);
const project = readProject();
const { show } = await import('./page');
await show(document.getElementById('page')!, project, engraver);
