'use client';

import { type MantineColorScheme, useMantineColorScheme } from '@mantine/core';
import { IconKeyboard, IconLogout, IconShieldLock } from '@tabler/icons-react';
import { useId } from 'react';
import { Link } from '@/components/ui/link';
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

type PersonPanelProps = {
  name: string;
  roles: readonly string[];
  onKeys: () => void;
  /** Something was chosen that leads elsewhere. */
  onLeave: () => void;
};

/** What one chooses under one's name: light or dark, language, measures; and the way out. */
export function PersonPanel({ name, roles, onKeys, onLeave }: PersonPanelProps) {
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  const id = useId();
  return (
    <>
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
              name={`${id}-look`}
              checked={colorScheme === value}
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
          onLeave();
          onKeys();
        }}
      >
        <IconKeyboard size={18} stroke={1.5} aria-hidden="true" />
        {say('Keys of this page')}
      </button>
      <Link href={paths.secondFactor} className={classes.leave} onClick={onLeave}>
        <IconShieldLock size={18} stroke={1.5} aria-hidden="true" />
        {say('Second factor')}
      </Link>
      <button type="button" className={classes.leave} onClick={leave}>
        <IconLogout size={18} stroke={1.5} aria-hidden="true" />
        {say('Sign out')}
      </button>
    </>
  );
}
