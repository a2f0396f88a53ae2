'use client';

import { Button, Group, NativeSelect, NumberInput, Stack, Table, Text, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { Moment } from '@/components/ui/moment';
import { problemOf } from '@/components/ui/problem';
import { sayWith } from '@/components/ui/say-with';
import { StateBadge } from '@/components/ui/state-badge';
import { countOf, say, sayWord } from '@/lib/platform/words/say';
import { ELEMENT_IDS, type ElementId, elementName, sidesOf } from '@/lib/skeletons/elements';
import type { BoxCountLine, SkeletonDetail } from '@/lib/skeletons/schema';
import type { Side } from '@/lib/skeletons/words';
import { useCountBox } from './queries';

type Line = SkeletonDetail['box'][number];
const SPLINTERS = 99;

const keyOf = ({ element, side }: { element: string; side: string }) => `${element}/${side}`;
const sayRange = ({ min, max }: Line['expected']): string =>
  max >= SPLINTERS ? say('{min} or more', { min }) : min === max ? `${min}` : `${min}–${max}`;

/** The count of the last time, line by line against the book. */
function Compared({ detail }: { detail: SkeletonDetail }) {
  const wrong = detail.box.filter(({ verdict }) => verdict !== 'agrees');
  if (detail.lastCount === null) return null;
  return (
    <div>
      <p>
        {sayWith('Counted by {by} on {moment}. {x}', {
          by: detail.lastCount.by,
          moment: <Moment at={detail.lastCount.at} />,
          x:
            wrong.length === 0
              ? say('Book and box agree.')
              : say('{of} of {length} differ from the book as it is now.', {
                  of: countOf(wrong.length, 'line'),
                  length: detail.box.length,
                }),
        })}
      </p>
      {detail.lastCount.note && <p>“{detail.lastCount.note}”</p>}
    </div>
  );
}

/** Bones in hand against the bone book. A difference opens a question; the book is never changed by a count. */
export function BoxCount({ detail }: { detail: SkeletonDetail }) {
  const [counting, setCounting] = useState(false);
  return (
    <Stack gap="md">
      {!detail.bookBalanced && (
        <StateBadge tone="attention">
          {say(
            'The bone book does not account for every element yet: what it is silent about is not expected here.',
          )}
        </StateBadge>
      )}
      <Compared detail={detail} />
      {counting ? (
        <CountForm detail={detail} onDone={() => setCounting(false)} />
      ) : (
        detail.abilities.count && (
          <div>
            <Button
              variant={detail.lastCount === null ? 'filled' : 'default'}
              onClick={() => setCounting(true)}
            >
              {detail.lastCount === null ? say('Count the bones') : say('Count again')}
            </Button>
          </div>
        )
      )}
      {detail.lastCount === null && !detail.abilities.count && (
        <p>{say('The bones are counted against the book when they are boxed.')}</p>
      )}
    </Stack>
  );
}

function CountForm({ detail, onDone }: { detail: SkeletonDetail; onDone: () => void }) {
  const save = useCountBox(detail.id);
  const [counts, setCounts] = useState<Record<string, number>>({});
  const [strange, setStrange] = useState<{ element: ElementId; side: Side }[]>([]);
  const lines = detail.box.filter(({ expected }) => expected.max > 0);
  const all: { element: ElementId; side: Side; expected: Line['expected'] | null }[] = [
    ...lines,
    ...strange.map((bone) => ({ ...bone, expected: null })),
  ];
  const set = (key: string, value: number | string) =>
    setCounts((before) => {
      const { [key]: _, ...rest } = before;
      return typeof value === 'number' ? { ...rest, [key]: value } : rest;
    });
  const certain = lines.filter(
    (line) => line.expected.min === line.expected.max && counts[keyOf(line)] === undefined,
  );
  const fillRest = () =>
    setCounts((before) => ({
      ...Object.fromEntries(certain.map((line) => [keyOf(line), line.expected.min])),
      ...before,
    }));
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const note = String(new FormData(event.currentTarget).get('note') ?? '').trim() || null;
    const counted = all.flatMap(({ element, side }): BoxCountLine[] => {
      const count = counts[keyOf({ element, side })];
      return count === undefined ? [] : [{ element, side, count }];
    });
    save.mutate({ version: detail.version, lines: counted, note }, { onSuccess: onDone });
  };
  const left = lines.filter((line) => counts[keyOf(line)] === undefined).length;
  return (
    <form onSubmit={submit} aria-label={say('Count of the bones')}>
      <Stack gap="sm">
        <Table stickyHeader maw={640}>
          <Table.Thead>
            <Table.Tr>
              <Table.Th scope="col">{say('Bone')}</Table.Th>
              <Table.Th scope="col">{say('By the book')}</Table.Th>
              <Table.Th scope="col">{say('In the box')}</Table.Th>
            </Table.Tr>
          </Table.Thead>
          <Table.Tbody>
            {all.map((line) => {
              const name = elementName(line.element, line.side);
              return (
                <Table.Tr key={keyOf(line)}>
                  <Table.Th scope="row" fw={400}>
                    {name}
                  </Table.Th>
                  <Table.Td>
                    {line.expected === null ? say('not in the book') : sayRange(line.expected)}
                  </Table.Td>
                  <Table.Td>
                    <NumberInput
                      aria-label={say('{word} in the box', { word: sayWord(name) })}
                      size="xs"
                      w={88}
                      min={0}
                      max={99}
                      allowDecimal={false}
                      value={counts[keyOf(line)] ?? ''}
                      onChange={(value) => set(keyOf(line), value)}
                    />
                  </Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
        <StrangeBone
          known={new Set(all.map(keyOf))}
          onAdd={(bone) => setStrange((before) => [...before, bone])}
        />
        <Textarea name="note" label={say('Note')} autosize minRows={1} maxLength={2000} maw={640} />
        {save.error !== null && <p role="alert">{problemOf(save.error).title}</p>}
        <Group>
          <Button type="submit" loading={save.isPending} disabled={Object.keys(counts).length === 0}>
            {say('Keep the count')}
          </Button>
          {certain.length > 0 && (
            <Button variant="default" onClick={fillRest}>
              {say('The rest is as in the book')}
            </Button>
          )}
          <Button variant="default" onClick={onDone}>
            {say('Stop counting')}
          </Button>
          <Text size="sm" role="status">
            {left === 0
              ? say('Every line is counted.')
              : say('{of} not counted', { of: countOf(left, 'line') })}
          </Text>
        </Group>
      </Stack>
    </form>
  );
}

/** A bone that lies in the box although the book does not send it there. */
function StrangeBone({
  known,
  onAdd,
}: {
  known: ReadonlySet<string>;
  onAdd: (bone: { element: ElementId; side: Side }) => void;
}) {
  const bones = ELEMENT_IDS.flatMap((element) => sidesOf(element).map((side) => ({ element, side }))).filter(
    (bone) => !known.has(keyOf(bone)),
  );
  if (bones.length === 0) return null;
  return (
    <NativeSelect
      label={say('A bone that is not in the book')}
      maw={320}
      value=""
      data={[
        { value: '', label: say('none') },
        ...bones.map((bone) => ({ value: keyOf(bone), label: elementName(bone.element, bone.side) })),
      ]}
      onChange={(event) => {
        const bone = bones.find((one) => keyOf(one) === event.currentTarget.value);
        if (bone !== undefined) onAdd(bone);
      }}
    />
  );
}
