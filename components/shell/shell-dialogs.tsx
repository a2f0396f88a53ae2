'use client';

import dynamic from 'next/dynamic';
import { useState } from 'react';
import { notify } from '@/components/ui/notify';
import { say } from '@/lib/platform/words/say';
import type { CommandActor, Finds } from './command-entries';

const LOADS = {
  menu: () => import('./command-menu').then((module) => module.CommandMenu),
  keys: () => import('@/components/ui/shortcuts/keyboard-sheet').then((module) => module.KeyboardSheet),
};
type Which = keyof typeof LOADS;

const CommandMenu = dynamic(LOADS.menu, { ssr: false });
const KeyboardSheet = dynamic(LOADS.keys, { ssr: false });

/**
 * The command menu and the sheet of keys, each loaded when it is first asked for; what cannot be loaded, without a
 * connection, leaves the page as it is and says so. `prepare` loads the menu ahead of being asked.
 */
export function useShellDialogs(offer: { actor: CommandActor; finds: Finds }) {
  const [opened, setOpened] = useState<Which | null>(null);
  const [known, setKnown] = useState<readonly Which[]>([]);
  const open = (which: Which) =>
    LOADS[which]().then(
      () => {
        setKnown((before) => (before.includes(which) ? before : [...before, which]));
        setOpened(which);
      },
      () =>
        notify({
          color: 'attention',
          message: say('This cannot be opened without a connection. Everything on the page is as it was.'),
        }),
    );
  const close = () => setOpened(null);
  return {
    open: (which: Which) => void open(which),
    prepare: () => void LOADS.menu().catch(() => undefined),
    dialogs: (
      <>
        {known.includes('menu') && <CommandMenu {...offer} opened={opened === 'menu'} onClose={close} />}
        {known.includes('keys') && <KeyboardSheet opened={opened === 'keys'} onClose={close} />}
      </>
    ),
  };
}
