// What is wrong with the line to the home store, on every screen.

import { signal } from '@preact/signals';
import { link } from '../../shell/client';
import { WayOn } from '../parts/wayon';
import { levelWord } from '../words';

/** What was told and read, until the page is loaded again. */
const read = signal('');

/** Where link trouble stands: the short of it, and the way to the rest. */
export function WayNote() {
  const { way, trouble, told } = link.value;
  if (!way && !trouble) {
    return told && told !== read.value ? (
      <div class="note note-note" role="status" data-part="told">
        <i class="word">{levelWord.note}</i> {told}
        <span class="acts">
          <button type="button" class="quiet" onClick={() => (read.value = told)}>
            I have read it
          </button>
        </span>
      </div>
    ) : null;
  }
  return (
    <div class="note note-care" role="status" data-part="link-trouble">
      <i class="word">{levelWord.care}</i> {way ? `${way.title}.` : trouble}
      {way && <WayOn />}
    </div>
  );
}
