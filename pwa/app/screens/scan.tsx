// The scanner: the camera, and a photo or typing one touch away.

import { useRef, useState } from 'preact/hooks';
import { ask, draft, keepDraft, scanPhoto, scanTrouble } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import { Screen } from '../frame/screen';
import { useCamera } from '../parts/camera';
import { emptyPage, type Page } from '../notebook/page';
import { Trouble } from '../parts/trouble';
import { offerUndo } from '../parts/undo';
import { go } from '../route';

/** Where a scanned or typed text leads: to a jar, or to a lot that is called so. */
async function find(text: string): Promise<string | Refusal> {
  const jar = await ask('jar', { code: text });
  if (jar.ok) return `/j/${jar.value.code}`;
  const lots = await ask('lots', {});
  const lot = lots.ok ? lots.value.find((l) => l.code.toLowerCase() === text.trim().toLowerCase()) : undefined;
  return lot ? `/shelf/lots/${lot.key}` : jar.error;
}

/** A formula from a card or a class sheet opens as a notebook page; one that was begun there can be had back. */
async function openPage(text: string) {
  const was = await draft<Page>('notebook');
  await keepDraft('notebook', { ...emptyPage, text });
  go('/formulas/notebook');
  if (was?.text.trim() && was.text !== text) offerUndo('Another page was begun here.', () => void keepDraft('notebook', was));
}

export function Scan() {
  const video = useRef<HTMLVideoElement>(null);
  const [code, setCode] = useState('');
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const [looking, setLooking] = useState(false);

  const look = async (text: string) => {
    if (text.startsWith('Formula: ')) return void openPage(text);
    setLooking(true);
    const found = await find(text);
    setLooking(false);
    if (typeof found === 'string') go(found);
    else setError(found);
  };

  useCamera(video, true, (text) => void look(text));

  const photo = async (file: File | undefined) => {
    if (!file) return;
    setError(undefined);
    setLooking(true);
    const text = await scanPhoto(file);
    setLooking(false);
    if (text) await look(text);
    else setError({ code: 'no code', says: 'No code was found in this photo.', hint: 'Come closer, keep the label flat in the light, or type the code below it.', field: '' });
  };

  const blind = scanTrouble.value;
  return (
    <Screen name="scan" look="scan" title="Scan" sub="a jar’s label, by camera, photo or its code">
      <div class={blind ? 'finder blind' : 'finder'} data-part="finder">
        <video ref={video} aria-label="What the camera sees" playsInline muted />
        <span class="finder-frame" aria-hidden="true" />
      </div>
      {blind && (
        <p class="note note-note" role="status" data-part="scan-trouble">
          <i class="word">note</i> {blind}
        </p>
      )}
      <label class="btn second photo">
        Take a photo
        <input type="file" accept="image/*" capture="environment" class="unseen" onChange={(e) => void photo(e.currentTarget.files?.[0])} />
      </label>
      <form
        class="type-code"
        onSubmit={(e) => {
          e.preventDefault();
          void look(code);
        }}
      >
        <label for="code">or type the code under it</label>
        <div class="write">
          <input
            id="code"
            name="code"
            class="code num"
            type="text"
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            placeholder="7K3QX-04-D"
            value={code}
            aria-describedby="code-trouble"
            onInput={(e) => {
              setCode(e.currentTarget.value);
              setError(undefined);
            }}
          />
          <button type="submit" class="btn" disabled={!code.trim() || looking}>
            Find
          </button>
        </div>
        <Trouble error={error} id="code-trouble" />
      </form>
    </Screen>
  );
}
