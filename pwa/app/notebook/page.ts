// From the page as it was read to a draft: what was chosen for a line is set beside it, and nothing typed is written over.

import type { Draft } from '../../shell/contract';
import type { Notebook, NotebookLine } from '../../shell/contract-formula';
import { blank } from '../formula/change';

/** What is half done on the notebook page; kept on this phone. */
export interface Page {
  text: string;
  /** by line as typed: the key that was chosen for it */
  chosen: Record<string, string>;
  /** what kind of product it is, where that was said on the page */
  kind?: Kind;
}

export type Kind = Pick<Draft, 'wash' | 'site' | 'age'>;

export function kindOf(page: Page): Kind {
  const { wash, site, age } = blank();
  return page.kind ?? { wash, site, age };
}

export const emptyPage: Page = { text: '', chosen: {} };

/** The line of the draft that was made from a line of the page. Lines stand in the same order in both. */
function madeFrom(line: NotebookLine, of: Draft['lines'][number] | undefined): boolean {
  if (!of) return false;
  const held = of.ingredient || of.base;
  return held ? held === line.ingredient : of.note === `typed: ${line.typed.trim()}`;
}

export function toDraft(page: Notebook, typed: Page, isFormula: (key: string) => boolean): Draft {
  const { chosen } = typed;
  const empty = blank();
  const read = page.draft;
  const lines = [...read.lines];
  let at = 0;
  for (const line of page.lines) {
    const made = lines[at];
    if (!made || !madeFrom(line, made)) continue;
    const key = chosen[line.typed];
    if (key) {
      const note = made.ingredient || made.base ? made.note : '';
      lines[at] = { ...made, ingredient: isFormula(key) ? '' : key, base: isFormula(key) ? key : '', note };
    }
    at++;
  }
  return {
    ...read,
    ...kindOf(typed),
    phases: read.phases.length > 0 ? read.phases : empty.phases,
    plan: read.plan.jars ? { ...empty.plan, ...read.plan, step: read.plan.step || empty.plan.step } : empty.plan,
    lines,
  };
}
