'use client';

import { Button } from '@mantine/core';
import { useState } from 'react';
import { whenOpened } from '@/components/ui/later';
import { say } from '@/lib/platform/words/say';
import type { VialRecord } from '@/lib/tissues/wire';

const VialChangeForm = whenOpened(
  () => import('./vial-change-form').then((module) => module.VialChangeForm),
  6,
);

/** Measures what was not measured, and corrects what is recorded; with the reason. */
export function VialChange({ vial }: { vial: VialRecord }) {
  const [open, setOpen] = useState(false);
  return open ? (
    <VialChangeForm key={vial.version} vial={vial} onDone={() => setOpen(false)} />
  ) : (
    <Button variant="default" onClick={() => setOpen(true)}>
      {vial.amount === null ? say('Measure or correct') : say('Correct')}
    </Button>
  );
}
