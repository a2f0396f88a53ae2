'use client';

import { Button, Stack, TextInput } from '@mantine/core';
import { useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { countOf, say } from '@/lib/platform/words/say';
import type { ScanAnswer, UnitRecord } from '@/lib/storage/wire';
import { findCode, useMoveUnit } from './queries';
import { ScanBox, type ScanMessage } from './scan-box';

type Target = Extract<ScanAnswer, { found: 'unit' }>['unit'];

/** Moves the unit with all it holds: scan where it goes, say the position where there is one, and press once. */
export function UnitMove({ unit }: { unit: UnitRecord }) {
  const move = useMoveUnit(unit.id);
  const [target, setTarget] = useState<Target | null>(null);
  const [position, setPosition] = useState('');
  const [message, setMessage] = useState<ScanMessage | null>(null);
  const find = async (code: string) => {
    setMessage(null);
    try {
      const answer = await findCode(code);
      if (answer.found === 'unit') setTarget(answer.unit);
      else
        setMessage({
          tone: 'attention',
          text: say('That is no place of the store. Scan the label of a rack, shelf or freezer.'),
        });
    } catch (error) {
      setMessage({ tone: 'attention', text: problemOf(error).title ?? say('Not found.') });
    }
  };
  const go = () => {
    if (target === null) return;
    move.mutate(
      { parentId: target.id, position: position || null, version: unit.version },
      {
        onSuccess: (moved) => {
          setMessage({
            tone: 'settled',
            text: say('{name} stands in {path} now.', { name: unit.name, path: moved.path }),
          });
          setTarget(null);
          setPosition('');
        },
        onError: (error) =>
          setMessage({ tone: 'stop', text: problemOf(error).title ?? say('Nothing was moved.') }),
      },
    );
  };
  return (
    <Stack gap="sm" mb="xl">
      <h3>{say('Move it, with all it holds')}</h3>
      <ScanBox
        label={say('Where it goes')}
        help={say('Scan the label of the place, or type its code.')}
        busy={move.isPending}
        message={message}
        onCode={(code) => void find(code)}
      />
      {target !== null && (
        <Stack gap="sm" align="flex-start">
          <p>
            {say('To {path}, with {of}.', { path: target.path, of: countOf(unit.materials, 'material') })}
          </p>
          {target.grid !== null && (
            <TextInput
              label={say('Position in {name}', { name: target.name })}
              required
              w={200}
              value={position}
              onChange={(event) => setPosition(event.currentTarget.value)}
            />
          )}
          <Button loading={move.isPending} onClick={go}>
            {say('Move {name}', { name: unit.name })}
          </Button>
        </Stack>
      )}
    </Stack>
  );
}
