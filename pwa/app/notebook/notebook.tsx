// A page of the maker's own notebook, typed or pasted, and read back line by line while it is written.

import { useEffect, useRef, useState } from 'preact/hooks';
import { ask, draft, keepDraft } from '../../shell/client';
import type { Draft, Result } from '../../shell/contract';
import type { Notebook } from '../../shell/contract-formula';
import { useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Choice } from '../parts/choice';
import { Trouble } from '../parts/trouble';
import { offerUndo } from '../parts/undo';
import { go } from '../route';
import { ages, count, sites, washes } from '../words';
import { emptyPage, kindOf, toDraft, type Kind, type Page } from './page';
import { ReadBack, stillOpen } from './readback';

const back = { to: '/formulas', text: 'Formulas' };

/** The page as the engine reads it; the last answer stands until the next is there, so that nothing flickers. */
function useReading(text: string): Result<Notebook> | undefined {
  const [answer, setAnswer] = useState<Result<Notebook> | undefined>(undefined);
  const newest = useRef('');
  useEffect(() => {
    newest.current = text;
    void ask('notebook', { text }).then((result) => {
      if (newest.current === text) setAnswer(result);
    });
  }, [text]);
  return answer;
}

export function NotebookScreen() {
  const kept = useKept<Page>('notebook');
  if (!kept.known) return <NotThere name="notebook" title="Notebook page" back={back} />;
  return <Writing page={kept.value ?? emptyPage} edit={(change) => kept.edit((now) => change(now ?? emptyPage))} drop={kept.clear} />;
}

function Writing({ page, edit, drop }: { page: Page; edit: (change: (now: Page) => Page) => void; drop: () => void }) {
  const answer = useReading(page.text);
  const formulas = useView('formulas', {});
  const read = answer?.ok ? answer.value : undefined;
  const lines = page.text.trim() ? (read?.lines ?? []) : [];
  const kind = kindOf(page);
  const say = (change: Partial<Kind>) => edit((now) => ({ ...now, kind: { ...kindOf(now), ...change } }));
  const open = lines.filter((l) => stillOpen(l, page.chosen[l.typed] ?? '')).length;
  // A draft holds per cent. Before these can be told, the amounts stand only here, and a formula would have none.
  const shares = read?.draft.lines.some((l) => l.percent || l.qs) === true;
  const make = async () => {
    if (!read) return;
    const was = await draft<Draft>('formula:new');
    const made = toDraft(read, page, (key) => formulas?.ok === true && formulas.value.some((f) => f.key === key));
    await keepDraft('formula:new', made);
    go('/formulas/new');
    if (was && was.lines.length > 0) {
      offerUndo(`${was.name || 'A formula without a name'} was begun here and not saved.`, () => {
        void keepDraft('formula:new', was).then(() => go('/formulas'));
      });
    }
  };
  return (
    <Screen
      name="notebook"
      title="Notebook page"
      sub={read?.title || 'any units, any order, comma or point'}
      back={back}
      foot={
        <>
          {lines.length > 0 && (
            <div class="plan-row">
              <span data-part="unread">{open > 0 ? `${count(open, 'line is', 'lines are')} still open` : count(lines.length, 'line', 'lines')}</span>
              <b class="num" data-part="page-total">
                {read?.total}
              </b>
            </div>
          )}
          {lines.length > 0 && read && !shares && <p class="because">Per cent follows when every line has a name and an amount; begin a line with # to keep it as a remark.</p>}
          <button type="button" class="btn" disabled={!shares} onClick={() => void make()}>
            Make it a formula
          </button>
        </>
      }
    >
      <div class="page">
        <textarea
          class="page-text"
          name="page"
          aria-label="The page"
          rows={9}
          spellcheck={false}
          autocapitalize="none"
          autofocus
          placeholder={'distilled water 212 g\nbetaine solution 130 g\nstearic acid 140\nglycerin 2 oz'}
          value={page.text}
          onInput={(e) => {
            const text = e.currentTarget.value;
            edit((now) => ({ ...now, text }));
          }}
        />
        <div>
          <h2 class="ph">
            <span>read as</span>
            {page.text && (
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  drop();
                  offerUndo('The page was cleared.', () => edit(() => page));
                }}
              >
                Clear the page
              </button>
            )}
          </h2>
          {answer && !answer.ok && <Trouble error={answer.error} />}
          <ol class="read-back" aria-live="polite">
            {lines.map((line, n) => (
              <ReadBack
                key={n + line.typed}
                of={line}
                chosen={page.chosen[line.typed] ?? ''}
                choose={(key) => edit((now) => ({ ...now, chosen: { ...now.chosen, [line.typed]: key } }))}
              />
            ))}
          </ol>
          {lines.length === 0 && <p class="faint">Each line shows here what it was taken to mean, in grams and per cent.</p>}
          <details class="plan" data-part="kind">
            <summary>{[kind.wash, kind.site, kind.age].join(' · ')}</summary>
            <Choice label="On skin" options={washes} value={kind.wash} set={(wash) => say({ wash })} />
            <Choice label="Where" options={sites} value={kind.site} set={(site) => say({ site })} />
            <Choice label="For whom" options={ages} value={kind.age} set={(age) => say({ age })} />
          </details>
          {lines.length > 0 && read?.totalSays && <p class="remark">{read.totalSays}</p>}
        </div>
      </div>
    </Screen>
  );
}
