// What stands there before the book is open, when it cannot be opened, and when another tab has it.

import { failure, takeOver } from '../../shell/client';
import { Jar } from '../parts/jar';
import { Trouble } from '../parts/trouble';

const mark = [
  { phase: 'A', share: 0.38, percent: '' },
  { phase: 'B', share: 0.14, percent: '' },
  { phase: 'D', share: 0.34, percent: '' },
];

export function Mark() {
  return <Jar layers={mark} height={96} label="Stillroom" />;
}

export function Starting() {
  return (
    <main class="screen opening" data-screen="starting" aria-busy="true">
      <Mark />
      <h1>Stillroom</h1>
      <p class="faint">opening the book</p>
    </main>
  );
}

export function Failed() {
  const says = failure.value || 'The book could not be opened on this phone.';
  return (
    <main class="screen opening" data-screen="failed">
      <Mark />
      <h1>The book did not open</h1>
      <Trouble error={{ code: 'failed', says, hint: 'What was kept stays kept.', field: '' }} />
      <button type="button" class="btn" onClick={() => location.reload()}>
        Load again
      </button>
      <p>
        <a href="/rescue.html">Save what this phone holds as a file</a>
      </p>
    </main>
  );
}

export function Elsewhere() {
  return (
    <main class="screen opening" data-screen="elsewhere">
      <Mark />
      <h1>The book is open in another tab</h1>
      <p>Only one tab of this phone writes at a time, so that nothing is written twice. What is half typed there is kept.</p>
      <button type="button" class="btn" onClick={takeOver}>
        Continue here
      </button>
    </main>
  );
}
