'use client';

import { useClickOutside } from '@mantine/hooks';
import { IconChevronDown } from '@tabler/icons-react';
import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { whenOpened } from '@/components/ui/later';
import { sayWord } from '@/lib/platform/words/say';
import classes from './person-menu.module.css';

const PersonPanel = whenOpened(() => import('./person-panel').then((module) => module.PersonPanel));

/** First letters of the first two names. */
const initialsOf = (name: string): string =>
  name
    .split(/\s+/)
    .map((part) => part.charAt(0))
    .slice(0, 2)
    .join('');

type PersonMenuProps = { name: string; roles: readonly string[]; onKeys: () => void };

/**
 * Who is signed in, in which roles; light or dark; the way out. A plain disclosure with radio buttons: the component
 * library's menu would bring its positioning engine to every page.
 */
export function PersonMenu({ name, roles, onKeys }: PersonMenuProps) {
  const [open, setOpen] = useState(false);
  const [wasOpened, setWasOpened] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const box = useClickOutside<HTMLDivElement>(() => setOpen(false));
  const panelId = useId();
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || !open) return;
    setOpen(false);
    button.current?.focus();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Escape closes from wherever inside the focus is
    <div ref={box} className={classes.box} onKeyDown={onKeyDown}>
      <button
        ref={button}
        type="button"
        className={classes.person}
        aria-expanded={open}
        aria-controls={panelId}
        onPointerEnter={PersonPanel.prepare}
        onFocus={PersonPanel.prepare}
        onClick={() => {
          setWasOpened(true);
          setOpen((before) => !before);
        }}
      >
        <span className={classes.initials} aria-hidden="true">
          {initialsOf(name)}
        </span>
        <span className={classes.words}>
          <span className={classes.name}>{name}</span>
          <span className={classes.roles}>{roles.map(sayWord).join(', ')}</span>
        </span>
        <IconChevronDown size={16} stroke={1.5} aria-hidden="true" className={classes.more} />
      </button>
      <div id={panelId} className={classes.panel} hidden={!open}>
        {wasOpened && (
          <PersonPanel name={name} roles={roles} onKeys={onKeys} onLeave={() => setOpen(false)} />
        )}
      </div>
    </div>
  );
}
