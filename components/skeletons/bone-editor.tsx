'use client';

import { Button, Group, Stack, Text, TextInput } from '@mantine/core';
import { useEffect, useState } from 'react';
import { say, sayWord } from '@/lib/platform/words/say';
import { ELEMENTS, elementName, isDivisible, portionName } from '@/lib/skeletons/elements';
import { whereabouts } from '@/lib/skeletons/rules/entries';
import type { BoneEntry, BonePatch } from '@/lib/skeletons/schema';
import { ELEMENT_STATES, PLACES } from '@/lib/skeletons/words';
import classes from './bone-book-panel.module.css';

/** The bone that was pressed on the drawing: where it goes and how it is, with targets for wet hands. */
export function BoneEditor({
  entry,
  readOnly,
  onPatch,
  onDivide,
  onJoin,
}: {
  entry: BoneEntry;
  readOnly: boolean;
  onPatch: (patch: BonePatch) => void;
  onDivide: () => void;
  onJoin: () => void;
}) {
  const name = elementName(entry.element, entry.side);
  return (
    <Stack gap="xs">
      <div>
        <h3>{sayWord(name)}</h3>
        <Text size="sm">
          <i lang="la">{ELEMENTS[entry.element].term}</i>, {portionName(entry.element, entry.portion)}
          {readOnly && `: ${whereabouts(entry)}${entry.state === 'broken' ? ', broken' : ''}`}
        </Text>
        {readOnly && entry.note !== null && <Text size="sm">“{entry.note}”</Text>}
      </div>
      {!readOnly && (
        <>
          <Group gap={6} role="group" aria-label={say('Place of the {name}', { name })}>
            {PLACES.map((place) => (
              <Button
                key={place}
                size="compact-md"
                className={classes.choice}
                variant={entry.place === place ? 'filled' : 'default'}
                aria-pressed={entry.place === place}
                onClick={() => onPatch({ place: entry.place === place ? null : place })}
              >
                {sayWord(place)}
              </Button>
            ))}
          </Group>
          <Group gap={6} role="group" aria-label={say('State of the {name}', { name })}>
            {ELEMENT_STATES.map((state) => (
              <Button
                key={state}
                size="compact-md"
                className={classes.choice}
                variant={entry.state === state ? 'filled' : 'default'}
                aria-pressed={entry.state === state}
                onClick={() => onPatch({ state })}
              >
                {sayWord(state)}
              </Button>
            ))}
            {isDivisible(entry.element) && (
              <Button
                size="compact-md"
                className={classes.choice}
                variant="default"
                onClick={entry.portion === 'whole' ? onDivide : onJoin}
              >
                {entry.portion === 'whole' ? say('Divide') : say('Join the portions')}
              </Button>
            )}
          </Group>
          <NoteField
            key={`${entry.element}/${entry.side}/${entry.portion}`}
            entry={entry}
            onPatch={onPatch}
          />
        </>
      )}
    </Stack>
  );
}

/** Written when the field is left, so that a save in between does not touch what is being typed. */
function NoteField({ entry, onPatch }: { entry: BoneEntry; onPatch: (patch: BonePatch) => void }) {
  const [words, setWords] = useState(entry.note ?? '');
  useEffect(() => setWords(entry.note ?? ''), [entry.note]);
  const keep = () => {
    const note = words.trim() || null;
    if (note !== entry.note) onPatch({ note });
  };
  return (
    <TextInput
      label={say('Note')}
      maxLength={500}
      value={words}
      onChange={(event) => setWords(event.currentTarget.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep();
      }}
    />
  );
}
