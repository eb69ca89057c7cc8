import './fonts.css';
import './style.css';
import { readProject } from './model/read';
import { fontsLoaded } from './view/fonts';

// What takes long is begun before the page itself is read: the project comes meanwhile.
const project = readProject();
const fonts = fontsLoaded();
const { show } = await import('./page');
const engraver = () => new Worker(new URL('./engrave/engraver.worker.ts', import.meta.url), { type: 'module' });
await show(document.getElementById('page')!, project, fonts, location.pathname === '/call' ? null : engraver);
