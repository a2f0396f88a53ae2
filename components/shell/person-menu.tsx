'use client';

import { type MantineColorScheme, useMantineColorScheme } from '@mantine/core';
import { useClickOutside, useMounted } from '@mantine/hooks';
import { IconChevronDown, IconKeyboard, IconLogout, IconShieldLock } from '@tabler/icons-react';
import Link from 'next/link';
import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { InchesChoice, LanguageChoice } from '@/components/ui/reading-choices';
import { paths } from '@/lib/platform/paths';
import { phrases, say, sayWord } from '@/lib/platform/words/say';
import { forgetKeptPages } from './keep-offline';
import classes from './person-menu.module.css';

const SCHEMES: { value: MantineColorScheme; label: string }[] = phrases([
  { value: 'light', label: 'Light|theme' },
  { value: 'dark', label: 'Dark' },
  { value: 'auto', label: 'As the device' },
]);

async function leave(): Promise<void> {
  const { signOut } = await import('next-auth/react');
  await forgetKeptPages();
  await signOut({ callbackUrl: '/sign-in' });
}

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
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  const mounted = useMounted();
  const [open, setOpen] = useState(false);
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
        onClick={() => setOpen((before) => !before)}
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
        <p className={classes.who}>
          {name}
          <span className={classes.roles}>{roles.map(sayWord).join(', ')}</span>
        </p>
        <fieldset className={classes.schemes}>
          <legend>{say('Look')}</legend>
          {SCHEMES.map(({ value, label }) => (
            <label key={value}>
              <input
                type="radio"
                name={`${panelId}-look`}
                checked={mounted && colorScheme === value}
                onChange={() => setColorScheme(value)}
              />
              {label}
            </label>
          ))}
        </fieldset>
        <LanguageChoice className={classes.schemes} />
        <InchesChoice className={classes.schemes} />
        <button
          type="button"
          className={classes.leave}
          onClick={() => {
            setOpen(false);
            onKeys();
          }}
        >
          <IconKeyboard size={18} stroke={1.5} aria-hidden="true" />
          {say('Keys of this page')}
        </button>
        <Link href={paths.secondFactor} className={classes.leave} onClick={() => setOpen(false)}>
          <IconShieldLock size={18} stroke={1.5} aria-hidden="true" />
          {say('Second factor')}
        </Link>
        <button type="button" className={classes.leave} onClick={leave}>
          <IconLogout size={18} stroke={1.5} aria-hidden="true" />
          {say('Sign out')}
        </button>
      </div>
    </div>
  );
}
