import type { ComponentChildren } from 'preact';
import { go } from '../route';

interface GoProps {
  to: string;
  class?: string;
  label?: string;
  current?: boolean;
  children: ComponentChildren;
}

/** A link inside the app. It stays a real link, so that it can be opened in a tab of its own. */
export function Go({ to, class: look, label, current, children }: GoProps) {
  return (
    <a
      href={to}
      class={look}
      aria-label={label}
      aria-current={current ? 'page' : undefined}
      onClick={(e) => {
        if (e.metaKey || e.ctrlKey || e.shiftKey || e.button !== 0) return;
        e.preventDefault();
        go(to);
      }}
    >
      {children}
    </a>
  );
}
