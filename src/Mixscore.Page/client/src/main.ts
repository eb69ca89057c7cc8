import './style.css';
import { mount } from 'svelte';
import type { Ask } from './engrave/engraver.worker';
import App from './view/App.svelte';
import { readProject } from './model/read';
import { Look } from './view/look.svelte';

const look = new Look('mixscore');
const onlyCall = location.pathname === '/call';
document.documentElement.dataset.theme = look.theme;
const page = document.getElementById('page')!;
// The engraver and the score come while the project is read: nothing of that waits for the other.
const engraver = onlyCall ? null : new Worker(new URL('./engrave/engraver.worker.ts', import.meta.url), { type: 'module' });
// It begins before the page knows how wide it is, but not where a first system that was kept is shown: it would be in its way.
if (!look.systems) engraver?.postMessage({ kind: 'begin' } satisfies Ask);
const project = await readProject();
document.title = `${project.title} · Mixscore`;
document.documentElement.dataset.mode = project.mode;
mount(App, { target: page, props: { project, look, engraver, onlyCall } });
