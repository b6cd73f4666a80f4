// One calm page for giving a formula away: as a file, as a table, on paper, to a class. All of it works without the home store.

import { useEffect, useState } from 'preact/hooks';
import type { Share } from '../../shell/contract-share';
import { useView } from '../book';
import { NotThere, Screen } from '../frame/screen';
import { Go } from '../parts/link';
import { ImportHere } from './import';

export function ShareScreen({ id, revision }: { id: string; revision: string }) {
  const back = { to: `/formulas/${id}`, text: 'Formula' };
  const answer = useView('share', { key: id, revision });
  if (!answer) return <NotThere name="share" title="Share" back={back} />;
  if (!answer.ok) return <NotThere name="share" title="Share" back={back} error={answer.error} />;
  const of = answer.value;
  const rev = revision && `?revision=${encodeURIComponent(revision)}`;
  return (
    <Screen name="share" title={`Share ${of.name}`} sub={[`revision ${of.number}`, of.credit, of.from].filter(Boolean).join(' · ')} back={back}>
      <p class="lead">Costs, lots and suppliers stay in this book. Nothing that is made here holds them.</p>
      {of.leftOut.map((says) => (
        <p class="note note-note" key={says} data-part="left-out">
          <i class="word">note</i> {says}.
        </p>
      ))}
      <Give title="Formula file" says={`For another Stillroom book: ${of.fileSays}, with credit.`} text={of.file} name={of.fileName} type="application/json" part="file" />
      <Give title="Table" says="For a spreadsheet: a row for each line, in per cent. Bases are named and not taken apart." text={of.table} name={of.tableAs} type="text/csv" part="table" />
      <section class="give">
        <h2>On paper</h2>
        <p>The formula with what to wear, cautions, findings, their sources, and what was not checked.</p>
        <Go to={`/formulas/${id}/card${rev}`} class="quiet">
          Formula card
        </Go>
      </section>
      <section class="give">
        <h2>A class</h2>
        <p>Grams for each learner, what to buy, why each line is there, and blanks to write in.</p>
        <Go to={`/formulas/${id}/class${rev}`} class="quiet">
          Class sheet
        </Go>
      </section>
      <p class="caution">{of.caution}</p>
      <ImportHere />
    </Screen>
  );
}

interface GiveProps {
  title: string;
  says: string;
  text: Share['file'];
  name: string;
  type: string;
  part: string;
}

/** A file is made on this phone: shared where the phone can, else kept among the downloads. */
function Give({ title, says, text, name, type, part }: GiveProps) {
  const [url, setUrl] = useState('');
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([text], { type }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [text, type]);
  const file = new File([text], name, { type });
  const shareable = typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] });
  return (
    <section class="give" data-part={part}>
      <h2>{title}</h2>
      <p>{says}</p>
      <div class="acts">
        {shareable && (
          <button type="button" class="quiet" onClick={() => void navigator.share({ files: [file] }).catch(() => undefined)}>
            Send it
          </button>
        )}
        {url && (
          <a class="quiet" href={url} download={name}>
            Keep as a file
          </a>
        )}
      </div>
    </section>
  );
}
