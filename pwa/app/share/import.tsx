// A file comes in: first it is only looked at, row by row; it is kept as a whole or not at all.

import { useState } from 'preact/hooks';
import type { Import, ImportFormula } from '../../shell/contract-share';
import { useAct } from '../act';
import { useKept, useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Go } from '../parts/link';
import { Trouble } from '../parts/trouble';
import { go } from '../route';

const back = { to: '/formulas', text: 'Formulas' };

interface Chosen {
  text: string;
  name: string;
}

export function ImportHere() {
  return (
    <p class="faint">
      A file or a spreadsheet from elsewhere: <Go to="/formulas/import">bring formulas in</Go>.
    </p>
  );
}

/** Spreadsheets write UTF-8, UTF-16 or one byte a letter. */
async function textOf(file: File): Promise<string> {
  const bytes = await file.arrayBuffer();
  const [a, b] = new Uint8Array(bytes);
  if (a === 0xff && b === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (a === 0xfe && b === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

export function ImportScreen() {
  const kept = useKept<Chosen>('import');
  const [tooLong, setTooLong] = useState(false);
  if (!kept.known) return <NotThere name="import" title="Bring formulas in" back={back} />;
  const choose = async (file: File | undefined) => {
    if (!file) return;
    setTooLong(file.size > 1 << 20);
    if (file.size <= 1 << 20) kept.set({ text: await textOf(file), name: file.name.replace(/\.[^.]*$/, '') });
  };
  return (
    <Screen name="import" title="Bring formulas in" sub="a formula file, or a spreadsheet saved as CSV in per cent or grams" back={back}>
      <label class="field">
        <span>File</span>
        <input type="file" name="file" accept=".csv,.tsv,.txt,.json,text/csv,application/json" onChange={(e) => void choose(e.currentTarget.files?.[0])} />
      </label>
      {tooLong && (
        <p class="trouble" role="alert">
          <i class="word">stop</i> The file is longer than 1 MiB. Nothing was read. <span class="hint">Save the sheet with the formulas alone.</span>
        </p>
      )}
      {kept.value ? <Look of={kept.value} drop={kept.clear} /> : <p class="lead">Headings in any order: ingredient, INCI, phase, % or g. Several formulas may stand in one file, parted by a blank line or by a column with their names.</p>}
    </Screen>
  );
}

function Look({ of, drop }: { of: Chosen; drop: () => void }) {
  const act = useAct();
  const answer = useView('import', { text: of.text, name: of.name });
  if (!answer) return <p class="faint not-yet">…</p>;
  if (!answer.ok) return <Trouble error={answer.error} />;
  const keep = async () => {
    const done = await act.run('formulas.import', { text: of.text, name: of.name });
    if (!done) return;
    drop();
    const [only, ...more] = done.keys;
    go(only && more.length === 0 ? `/formulas/${only}` : '/formulas');
  };
  return (
    <div class="page-import">
      <p class="lead" data-part="dry-run" role="status">
        {answer.value.says}. Nothing is kept yet.
      </p>
      <Troubles of={answer.value} />
      {answer.value.notes.map((says) => (
        <p class="note note-note" key={says}>
          <i class="word">note</i> {says}
        </p>
      ))}
      {answer.value.ingredients.length > 0 && <p>Own ingredients that come along: {answer.value.ingredients.join(', ')}.</p>}
      {answer.value.formulas.map((f, n) => (
        <Read key={n} of={f} />
      ))}
      <Trouble error={act.error} />
      <div class="two">
        <button type="button" class="btn second" onClick={drop}>
          Another file
        </button>
        <button type="button" class="btn" disabled={!answer.value.ready || act.busy} onClick={() => void keep()}>
          Keep all of it
        </button>
      </div>
    </div>
  );
}

function Troubles({ of }: { of: Import }) {
  return (
    <>
      {of.troubles.map((t, n) => (
        <p class="trouble" key={n} data-part="row-trouble">
          <i class="word">stop</i> <b>{[t.formula, t.place].filter(Boolean).join(', ')}</b>: {t.says} <span class="hint">{t.do}</span>
        </p>
      ))}
    </>
  );
}

function Read({ of }: { of: ImportFormula }) {
  return (
    <section class="on-paper" data-part="read-formula">
      <h2>
        {of.name} <small>{[of.credit && `by ${of.credit}`, of.total, of.says].filter(Boolean).join(' · ')}</small>
      </h2>
      {of.lines.map((l, n) => (
        <div class={l.trouble ? 'paper-line unread' : 'paper-line'} key={n}>
          <span>
            {l.phase} {l.name || l.typed}
            <small>{[l.place, l.name && l.name !== l.typed && l.typed, l.says, l.trouble].filter(Boolean).join(' · ')}</small>
          </span>
          <b class="num">{[l.amount, l.percent && l.percent !== l.amount && l.percent].filter(Boolean).join(' → ')}</b>
        </div>
      ))}
    </section>
  );
}
