'use client';

import { useMounted } from '@mantine/hooks';
import { Fragment } from 'react';
import classes from './shortcuts.module.css';
import { capsOf, type ShortcutId } from './table';

/** Whether the command key takes Ctrl's part here; only the browser knows. */
const useIsMac = (): boolean => useMounted() && /Mac|iPhone|iPad/.test(navigator.platform);

/** The keys of a shortcut as caps; several ways to press it are parted by "or". */
export function KeyCaps({ id }: { id: ShortcutId }) {
  const ways = capsOf(id, useIsMac());
  return (
    <span className={classes.caps}>
      {ways.map((way, at) => (
        <Fragment key={way.join()}>
          {at > 0 && ' or '}
          {way.map((cap) => (
            <kbd key={cap} className={classes.cap}>
              {cap}
            </kbd>
          ))}
        </Fragment>
      ))}
    </span>
  );
}
