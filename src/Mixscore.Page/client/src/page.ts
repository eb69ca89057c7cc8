import { mount } from 'svelte';
import App from './view/App.svelte';
import { Look } from './view/look.svelte';
import type { Project } from './model/project';

/** Puts the page there for a project and fonts that are on their way; its engraver is begun with it, or there is none. */
export async function show(target: HTMLElement, coming: Promise<Project>, fonts: Promise<unknown>, begin: (() => Worker) | null) {
  const look = new Look();
  document.documentElement.dataset.theme = look.theme;
  const project = await coming;
  document.title = `${project.title} · Mixscore`;
  document.documentElement.dataset.mode = project.mode;
  // The first moments belong to the browser, which begins processes of its own: a worker beside them would keep the page waiting.
  const engraver = begin?.() ?? null;
  await fonts;
  // What was read and what is put there are two tasks: together they would be a long one.
  await new Promise((resolve) => setTimeout(resolve));
  mount(App, { target, props: { project, look, engraver, onlyCall: engraver === null } });
}
