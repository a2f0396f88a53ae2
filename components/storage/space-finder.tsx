'use client';

import { Button, NativeSelect, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { preservationKinds } from '@/lib/storage/schema';
import { spaceOptions } from './queries';
import classes from './storage.module.css';
import { PRESERVATION_LABELS } from './words';

/** "40 vials, two boxes, different freezers": where there is room. A proposal; nothing is kept free. */
export function SpaceFinder() {
  const [asked, setAsked] = useState<{ text: string; preservation: string } | null>(null);
  const space = useQuery({
    ...spaceOptions(asked?.text ?? '', asked?.preservation ?? 'frozen'),
    enabled: asked !== null,
  });
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    setAsked({ text: String(form.get('text')), preservation: String(form.get('preservation')) });
  };
  return (
    <>
      <form onSubmit={submit} className={classes.line}>
        <TextInput
          name="text"
          label={say('What needs room')}
          placeholder={say('40 vials, two boxes, different freezers')}
          required
          className={classes.wide}
        />
        <NativeSelect
          name="preservation"
          label={say('Kept')}
          data={preservationKinds.map((value) => ({ value, label: PRESERVATION_LABELS[value] }))}
        />
        <Button type="submit" variant="default" loading={space.isFetching}>
          {say('Find room')}
        </Button>
      </form>
      <div role="status">
        {space.error !== null && <StateBadge tone="attention">{problemOf(space.error).title}</StateBadge>}
        {space.data !== undefined && space.error === null && (
          <ul className={classes.proposal}>
            {space.data.boxes.map((box) => (
              <li key={box.boxId}>
                <Link href={paths.storageUnit(box.boxId)}>{box.pathName}</Link>
                <span className={classes.soft}>
                  {countOf(box.positions.length, 'vial')}: {sayPositions(box.positions)}
                </span>
              </li>
            ))}
          </ul>
        )}
        {space.data?.isEven === false && <p className={classes.soft}>{say('They do not part evenly.')}</p>}
      </div>
    </>
  );
}

/** "A1, A2, A3 … C4" */
export function sayPositions(positions: readonly string[]): string {
  if (positions.length <= 6) return positions.join(', ');
  return `${positions.slice(0, 3).join(', ')} … ${positions.at(-1)}`;
}
