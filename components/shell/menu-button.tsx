'use client';

import { IconSearch } from '@tabler/icons-react';
import { KeyCaps } from '@/components/ui/shortcuts/key-caps';
import { ariaKeysOf } from '@/components/ui/shortcuts/table';
import { say } from '@/lib/platform/words/say';
import classes from './menu-button.module.css';

/** Looks like the box it opens; in the head of every page. */
export function MenuButton({ onOpen, onNear }: { onOpen: () => void; onNear: () => void }) {
  return (
    <button
      type="button"
      className={classes.button}
      aria-haspopup="dialog"
      aria-keyshortcuts={ariaKeysOf('everywhere.menu')}
      onClick={onOpen}
      onFocus={onNear}
      onPointerEnter={onNear}
    >
      <IconSearch size={18} stroke={1.5} aria-hidden="true" />
      <span className={classes.words}>{say('Find, go, begin')}</span>
      <span className={classes.keys} aria-hidden="true">
        <KeyCaps id="everywhere.menu" />
      </span>
    </button>
  );
}
