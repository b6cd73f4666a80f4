// Labels as a PDF from the home store: fetched, then opened, shared or kept as a file, whatever this phone can.

import { useEffect, useState } from 'preact/hooks';
import { labels, link } from '../../shell/client';
import type { Batch, Refusal } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Trouble } from '../parts/trouble';
import { NotChecked } from '../parts/findings';
import { Caution } from './caution';
import { Words } from './words';
import { sheetCount, sheets } from './sheets';

const notYet: Record<string, string> = {
  resting: 'This batch rests. A wet or sunk jar takes no label: look at it and release it by name first.',
  held: 'This batch is held: its jars are not used and not sold. No labels are printed for it.',
  discarded: 'This batch was discarded. Its jars are not sold.',
};

export function Labels({ of, open }: { of: Batch; open?: boolean }) {
  const [chosen, setSheet] = useState('a4-21');
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const [file, setFile] = useState<File | undefined>(undefined);
  const [noRoom, setNoRoom] = useState('');
  const [url, setUrl] = useState('');
  useEffect(() => {
    if (!file) return;
    const made = URL.createObjectURL(file);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  const { row, jars } = of;
  const sheet = sheets.find((s) => s.value === chosen) ?? sheets[0];
  if (!sheet) return null;
  const make = async () => {
    setBusy(true);
    const result = await labels(row.key, sheet.value);
    setBusy(false);
    setError(result.ok ? undefined : result.error);
    setNoRoom(result.ok ? result.value.says : '');
    setFile(result.ok ? new File([result.value.pdf], `labels-${row.code}.pdf`, { type: 'application/pdf' }) : undefined);
  };
  const says = row.state === 'resting' && row.purpose === 'trial' ? undefined : notYet[row.state];
  const { online } = link.value;
  // An inline PDF traps the user of an installed iOS app, so sharing stands first where it exists (platform.md, Printing).
  const shareable = file && typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] });
  return (
    <details class="labels" data-part="labels" open={open}>
      <summary>Print labels</summary>
      {says && (
        <p class={row.state === 'resting' ? 'note note-care' : 'note note-stop'}>
          <i class="word">{row.state === 'resting' ? 'take care' : 'stop'}</i> {says}
        </p>
      )}
      {row.purpose !== 'sale' && (
        <p class="note note-note">
          <i class="word">note</i> {row.purpose === 'trial' ? 'A trial: its labels say that it is not for sale.' : `This batch was made for: ${row.purpose}.`}
        </p>
      )}
      <Words of={of} />
      <Choice
        label="Sheet"
        options={sheets}
        value={sheet.value}
        set={(s) => {
          setSheet(s);
          setFile(undefined);
        }}
      />
      <p class="hint num" data-part="layout">
        {sheet.says}. {sheetCount(sheet, jars.length)}.
      </p>
      <Trouble error={error} />
      {!online && (
        <p class="hint" data-part="labels-offline">
          Labels come from the home store. It is out of reach now; when it runs again, they can be made here.
        </p>
      )}
      {file && noRoom && (
        <p class="note note-care" data-part="no-room" role="status">
          <i class="word">take care</i> {noRoom}.
        </p>
      )}
      {file && url ? (
        <div class="acts">
          {shareable && (
            <button type="button" class="quiet" onClick={() => void navigator.share({ files: [file] }).catch(() => undefined)}>
              Share the sheet
            </button>
          )}
          <a class="quiet" href={url} target="_blank" rel="noopener">
            Open the sheet
          </a>
          <a class="quiet" href={url} download={file.name}>
            Keep as a file
          </a>
        </div>
      ) : (
        <button type="button" class="btn second" disabled={busy || !online || says !== undefined || (!of.wordsWhy && of.words.some((f) => f.level === 'stop'))} onClick={() => void make()}>
          {busy ? 'Drawing the sheet' : `Make ${jars.length === 1 ? '1 label' : `${jars.length} labels`}`}
        </button>
      )}
      <NotChecked of={of.findings} />
      <Caution />
    </details>
  );
}
