import './style.css';
import { mount } from 'svelte';
import App from './view/App.svelte';
import type { Project } from './model/project';
import { Look } from './view/look.svelte';

const look = new Look('mixscore');
document.documentElement.dataset.theme = look.theme;
const page = document.getElementById('page')!;
const answer = await fetch('/project.json');
const project = (await answer.json()) as Project;
document.title = `${project.title} · Mixscore`;
mount(App, { target: page, props: { project, look, onlyCall: location.pathname === '/call' } });
