// Photos of a batch or of a formula's page: small beside each other, large at a touch, and the camera one touch away.

import { useEffect, useState } from 'preact/hooks';
import { keepPhoto, photo } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import type { Photo, PhotoOf } from '../../shell/contract-photo';
import { useView } from '../book';
import { Kept } from './kept';
import { Trouble } from './trouble';

export function Photos({ of }: { of: PhotoOf }) {
  const answer = useView('photos', 'batch' in of ? { batch: of.batch } : { formula: of.formula });
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<Refusal | undefined>(undefined);
  const take = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file || busy) return;
    setBusy(true);
    const kept = await keepPhoto(file, of);
    setBusy(false);
    setError(kept.ok ? undefined : kept.error);
    // The same file again must be heard of as well.
    input.value = '';
  };
  return (
    <div class="photos" data-part="photos">
      {answer?.ok && answer.value.map((one) => <One key={one.entry} of={one} />)}
      <label class="quiet photo" aria-busy={busy}>
        {busy ? 'Keeping it …' : 'formula' in of ? 'Photo of the page' : 'Take a photo'}
        <input type="file" name="photo" accept="image/*" capture="environment" class="unseen" onChange={(e) => void take(e.currentTarget)} />
      </label>
      <Trouble error={error} />
    </div>
  );
}

function One({ of }: { of: Photo }) {
  const [url, setUrl] = useState('');
  const [asked, setAsked] = useState(false);
  const [large, setLarge] = useState(false);
  useEffect(() => {
    if (url) return undefined;
    let here = true;
    void photo(of.photo).then((answer) => {
      if (!here) return;
      setAsked(true);
      if (answer.ok && answer.value) setUrl(URL.createObjectURL(answer.value));
    });
    return () => {
      here = false;
    };
  }, [of.photo, of.where]);
  useEffect(() => () => URL.revokeObjectURL(url), [url]);
  const says = `${of.says}, ${of.at}`;
  return (
    <figure class={large ? 'large' : ''} data-photo={of.photo}>
      <button type="button" aria-expanded={large} onClick={() => setLarge(!large)}>
        {url ? <img src={url} alt={says} /> : <span class="faint">{asked ? 'not on this phone; it comes from the home store' : '…'}</span>}
      </button>
      <figcaption>
        <small>{says}</small> <Kept where={of.where} />
      </figcaption>
    </figure>
  );
}
