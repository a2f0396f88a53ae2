'use client';

import { Button, Group, TextInput } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { findCode, spaceOptions } from '@/components/storage/queries';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import { say } from '@/lib/platform/words/say';
import type { PreservationKind } from '@/lib/storage/schema';

export type FillPlaceValue = { unitId: string; name: string; hasPositions: boolean; position: string };

/** Where a new vial goes: the box scanned or typed with its position, or the next free place that keeps it rightly. */
export function FillPlace({
  at,
  preservation,
  place,
  onChange,
}: {
  at: number;
  preservation: PreservationKind;
  place: FillPlaceValue | null;
  onChange: (place: FillPlaceValue | null) => void;
}) {
  const queries = useQueryClient();
  const [code, setCode] = useState('');
  const [problem, setProblem] = useState<string | null>(null);

  const find = async () => {
    if (code.trim() === '') return;
    setProblem(null);
    try {
      const answer = await findCode(code.trim());
      if (answer.found !== 'unit') return setProblem(say('That is no place of the store.'));
      onChange({
        unitId: answer.unit.id,
        name: answer.unit.path,
        hasPositions: answer.unit.grid !== null,
        position: '',
      });
      setCode('');
    } catch (error) {
      setProblem(problemOf(error).title ?? say('Not found.'));
    }
  };
  const propose = async () => {
    setProblem(null);
    try {
      const { boxes } = await queries.fetchQuery({
        ...spaceOptions(say('{at} vials', { at: at + 1 }), preservation),
        staleTime: 0,
      });
      const [box] = boxes;
      // The lines above have not been sent: this one takes the free position after theirs.
      const position = box?.positions[at];
      if (box === undefined || position === undefined) return setProblem(say('No free position was found.'));
      onChange({ unitId: box.boxId, name: box.pathName, hasPositions: true, position });
    } catch (error) {
      setProblem(problemOf(error).title ?? say('No free position was found.'));
    }
  };
  if (place !== null) {
    return (
      <Group align="flex-end">
        <p style={{ margin: 0 }}>{say('Goes to {name}', { name: place.name })}</p>
        {place.hasPositions && (
          <TextInput
            id={fieldId(`vials.${at}.position`)}
            label={say('Position')}
            required
            w={112}
            value={place.position}
            onChange={(event) => onChange({ ...place, position: event.currentTarget.value })}
          />
        )}
        <Button variant="subtle" onClick={() => onChange(null)}>
          {say('Another place')}
        </Button>
      </Group>
    );
  }
  return (
    <Group align="flex-end">
      <TextInput
        id={fieldId(`vials.${at}.position`)}
        label={say('Box it goes into')}
        description={say('Scan or type its code; may stay empty')}
        error={problem}
        w={280}
        value={code}
        onChange={(event) => setCode(event.currentTarget.value)}
        onBlur={() => void find()}
        onKeyDown={(event) => {
          if (event.key !== 'Enter') return;
          // The scanner's Enter means the code, not the form.
          event.preventDefault();
          void find();
        }}
      />
      <Button variant="default" onClick={() => void propose()}>
        {say('Propose the next free')}
      </Button>
    </Group>
  );
}
