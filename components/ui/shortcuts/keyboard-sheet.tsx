'use client';

import { Switch } from '@mantine/core';
import { say } from '@/lib/platform/words/say';
import { Dialog } from '../dialog';
import { KeyCaps } from './key-caps';
import classes from './shortcuts.module.css';
import { useSingleSigns } from './single-signs';
import { AREAS, type Area, shortcutOf, shortcutsIn } from './table';
import { useShownAreas } from './use-shortcuts';

/** Every key that works on this page and everywhere, drawn from the table of shortcuts. */
export function KeyboardSheet({ opened, onClose }: { opened: boolean; onClose: () => void }) {
  const shown = useShownAreas();
  const [singleSigns, setSingleSigns] = useSingleSigns();
  const areas = (Object.keys(AREAS) as Area[]).filter((area) => shown.includes(area));
  return (
    <Dialog opened={opened} onClose={onClose} title={say('Keys of this page')} width={720}>
      <div className={classes.areas}>
        {areas.map((area) => (
          <section key={area} className={classes.area} aria-labelledby={`keys-${area}`}>
            <h3 id={`keys-${area}`}>{AREAS[area]}</h3>
            <dl>
              {shortcutsIn(area).map((id) => (
                <div key={id} className={classes.line}>
                  <dt>
                    <KeyCaps id={id} />
                  </dt>
                  <dd>{shortcutOf(id).does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
      <p className={classes.note}>{say('Letters do nothing of this while you write in a field.')}</p>
      <Switch
        label={say('Letters and signs pressed alone work as keys, on this device')}
        checked={singleSigns}
        onChange={(event) => setSingleSigns(event.currentTarget.checked)}
      />
    </Dialog>
  );
}
