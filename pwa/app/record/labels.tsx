// Labels as a PDF from the home store: fetched, then opened, shared or kept as a file, whatever this phone can.

import { useEffect, useState } from 'preact/hooks';
import { labels } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Trouble } from '../parts/trouble';

const sheets = [
  { value: 'a4-21', text: 'A4, 21 of 63.5 × 38.1 mm' },
  { value: 'a4-8', text: 'A4, 8 of 99.1 × 67.7 mm' },
  { value: 'roll-57', text: 'roll, 57 × 32 mm' },
];

export function Labels({ batch, code }: { batch: string; code: string }) {
  const [sheet, setSheet] = useState('a4-21');
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const [file, setFile] = useState<File | undefined>(undefined);
  const [url, setUrl] = useState('');
  useEffect(() => {
    if (!file) return;
    const made = URL.createObjectURL(file);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  const make = async () => {
    setBusy(true);
    const result = await labels(batch, sheet);
    setBusy(false);
    setError(result.ok ? undefined : result.error);
    setFile(result.ok ? new File([result.value], `labels-${code}.pdf`, { type: 'application/pdf' }) : undefined);
  };
  // An inline PDF traps the user of an installed iOS app, so sharing stands first where it exists (platform.md, Printing).
  const shareable = file && typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] });
  return (
    <details class="labels" data-part="labels">
      <summary>Print labels</summary>
      <Choice
        label="Sheet"
        options={sheets}
        value={sheet}
        set={(s) => {
          setSheet(s);
          setFile(undefined);
        }}
      />
      <Trouble error={error} />
      <p class="hint">Labels are made by the home store. Tests by a laboratory and a safety assessment come first where the law asks for them.</p>
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
        <button type="button" class="btn second" disabled={busy} onClick={() => void make()}>
          {busy ? 'Drawing the sheet' : 'Make the sheet'}
        </button>
      )}
    </details>
  );
}
