import './style.css';
import { readProject } from './model/read';
import { askForFonts } from './view/fonts';

// What takes long is begun before the page itself is read: the engraver's script and the project come meanwhile.
const engraver = location.pathname === '/call' ? null : new Worker(new URL('./engrave/engraver.worker.ts', import.meta.url), { type: 'module' });
const project = readProject();
askForFonts();
const { show } = await import('./page');
await show(document.getElementById('page')!, project, engraver);
