'use client';

import { Menu, useMantineColorScheme } from '@mantine/core';
import { useMounted } from '@mantine/hooks';
import {
  IconCheck,
  IconChevronDown,
  IconDeviceDesktop,
  IconLogout,
  IconMoon,
  IconSun,
} from '@tabler/icons-react';
import { sayWord } from '@/components/ui/words';
import classes from './workspace-shell.module.css';

const SCHEMES = [
  { value: 'light', label: 'Light', Icon: IconSun },
  { value: 'dark', label: 'Dark', Icon: IconMoon },
  { value: 'auto', label: 'As the device', Icon: IconDeviceDesktop },
] as const;

async function leave(): Promise<void> {
  const { signOut } = await import('next-auth/react');
  await signOut({ callbackUrl: '/sign-in' });
}

/** Who is signed in, in which roles; light or dark; the way out. */
export function PersonMenu({ name, roles }: { name: string; roles: readonly string[] }) {
  const { colorScheme, setColorScheme } = useMantineColorScheme();
  const mounted = useMounted();
  const said = roles.map(sayWord).join(', ');
  const initials = name
    .split(/\s+/)
    .map((part) => part.charAt(0))
    .slice(0, 2)
    .join('');
  return (
    <Menu position="bottom-end" width={240}>
      <Menu.Target>
        <button type="button" className={classes.person}>
          <span className={classes.initials} aria-hidden="true">
            {initials}
          </span>
          <span className={classes.personWords}>
            <span className={classes.personName}>{name}</span>
            <span className={classes.personRoles}>{said}</span>
          </span>
          <IconChevronDown size={16} stroke={1.5} aria-hidden="true" className={classes.personMore} />
        </button>
      </Menu.Target>
      <Menu.Dropdown>
        <Menu.Label>
          {name}
          <br />
          {said}
        </Menu.Label>
        <Menu.Divider />
        <Menu.Label>Look</Menu.Label>
        {SCHEMES.map(({ value, label, Icon }) => {
          const chosen = mounted && colorScheme === value;
          return (
            <Menu.Item
              key={value}
              role="menuitemradio"
              aria-checked={chosen}
              leftSection={<Icon size={18} stroke={1.5} aria-hidden="true" />}
              rightSection={chosen ? <IconCheck size={16} stroke={1.5} aria-hidden="true" /> : null}
              onClick={() => setColorScheme(value)}
            >
              {label}
            </Menu.Item>
          );
        })}
        <Menu.Divider />
        <Menu.Item leftSection={<IconLogout size={18} stroke={1.5} aria-hidden="true" />} onClick={leave}>
          Sign out
        </Menu.Item>
      </Menu.Dropdown>
    </Menu>
  );
}
