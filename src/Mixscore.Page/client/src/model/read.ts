import type { Project } from './project';

/** The project as the server has it now; a performance has no marks to edit. */
export async function readProject(): Promise<Project> {
  const answer = await fetch('/project.json');
  const project = (await answer.json()) as Project;
  for (const source of project.sources) {
    source.marks ??= [];
    source.pins ??= [];
  }
  return project;
}
