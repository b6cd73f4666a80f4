// What every screen has: where it stands, where one came from, its title, and where things are kept.

import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { link } from '../../shell/client';
import type { Refusal } from '../../shell/contract';
import { Go } from '../parts/link';
import { Trouble } from '../parts/trouble';
import { WayNote } from './waynote';
import { count } from '../words';

interface ScreenProps {
  name: string;
  title: ComponentChildren;
  /** what the window is called where the title is more than words */
  named?: string;
  sub?: ComponentChildren;
  back?: { to: string; text: string };
  /** main acts, kept in reach at the foot */
  foot?: ComponentChildren;
  look?: string;
  /** without what is wrong with the line: the screen is about that */
  bare?: boolean;
  children?: ComponentChildren;
}

/** "in the book 09:12", or "on this phone, 3 rows": the rows that only this phone has are always counted. Short: "3 on this phone". */
export function KeptState({ short }: { short?: boolean }) {
  const { says, unsent, online } = link.value;
  const rows = unsent > 0 && !says.includes(String(unsent)) ? `, ${count(unsent, 'row', 'rows')}` : '';
  return (
    <span class="state" data-part="link" data-online={online} data-unsent={unsent}>
      <b>
        {short ? says.replace(/ rows?/, '') : says + rows}
      </b>
    </span>
  );
}

/** The window is named after what stands in it, for tabs, for the list of recent pages and for a screen reader; the keyboard begins at its head. */
export function useNamed(name: string): void {
  useEffect(() => {
    if (document.activeElement === document.body) document.querySelector('main')?.focus({ preventScroll: true });
  }, []);
  useEffect(() => {
    document.title = name ? `${name} · Stillroom` : 'Stillroom';
  }, [name]);
}

export function Screen(p: ScreenProps) {
  useNamed(p.named ?? (typeof p.title === 'string' ? p.title : ''));
  return (
    <main class={`screen ${p.look ?? ''}`} data-screen={p.name} tabIndex={-1}>
      <header class="top">
        <div class="over">
          {p.back ? (
            <Go to={p.back.to} class="back">
              ‹ {p.back.text}
            </Go>
          ) : (
            <span />
          )}
          <KeptState />
        </div>
        {typeof p.title === 'string' ? <h1>{p.title}</h1> : p.title}
        {p.sub && <div class="sub">{p.sub}</div>}
        {!p.bare && <WayNote />}
      </header>
      <div class="body">{p.children}</div>
      {p.foot && <div class="act">{p.foot}</div>}
    </main>
  );
}

/** A screen whose answer is not there yet, or is a refusal. */
export function NotThere({ name, title, back, error }: { name: string; title: string; back?: { to: string; text: string }; error?: Refusal | undefined }) {
  return (
    <Screen name={name} title={title} {...(back ? { back } : {})}>
      {error ? <Trouble error={error} /> : <p class="faint not-yet">…</p>}
    </Screen>
  );
}
