// The title of a formula is written where it stands; for whom it is folds under it.

import { useState } from 'preact/hooks';
import type { Draft } from '../../shell/contract';
import { Choice } from '../parts/choice';
import { Field } from '../parts/field';
import { ages, sites, washes } from '../words';
import type { Edit } from './change';

export function Title({ draft, edit, fresh }: { draft: Draft; edit: Edit; fresh: boolean }) {
  return (
    <h1 class="title">
      <textarea
        rows={1}
        aria-label="Name of the formula"
        name="name"
        placeholder="Name of the formula"
        autocomplete="off"
        autofocus={fresh && draft.name === ''}
        value={draft.name}
        onInput={(e) => {
          // A name is one line of words; it only looks like several on a narrow screen.
          const name = e.currentTarget.value.replace(/\n/g, ' ');
          edit((now) => ({ ...now, name }));
        }}
      />
    </h1>
  );
}

export function For({ draft, edit, before }: { draft: Draft; edit: Edit; before: string }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <button type="button" class="for" aria-expanded={open} onClick={() => setOpen(!open)}>
        {[before, draft.wash, draft.site, draft.age].filter(Boolean).join(' · ')}
      </button>
      {open && (
        <div class="detail">
          <Choice label="On skin" options={washes} value={draft.wash} set={(wash) => edit((now) => ({ ...now, wash }))} />
          <Choice label="Where" options={sites} value={draft.site} set={(site) => edit((now) => ({ ...now, site }))} />
          <Choice label="For whom" options={ages} value={draft.age} set={(age) => edit((now) => ({ ...now, age }))} />
          <div class="pair" data-part="life">
            <Field label="Keeps unopened" name="life" mode="numeric" unit="months" value={draft.life ?? ''} set={(life) => edit((now) => ({ ...now, life }))} hint="by your own tests; empty when not known" />
            <Field label="Once opened" name="after-open" mode="numeric" unit="months" value={draft.afterOpen ?? ''} set={(afterOpen) => edit((now) => ({ ...now, afterOpen }))} hint="stands on label and card" />
          </div>
        </div>
      )}
    </>
  );
}
