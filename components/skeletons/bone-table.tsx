'use client';

import { Button, NativeSelect, Table, Text } from '@mantine/core';
import { IconAlertTriangle } from '@tabler/icons-react';
import { memo } from 'react';
import { say, sayCode } from '@/lib/platform/words/say';
import { ELEMENTS, elementName, elementOf, isDivisible, portionName } from '@/lib/skeletons/elements';
import { checkConservation } from '@/lib/skeletons/rules/conservation';
import { keyEntries } from '@/lib/skeletons/rules/entries';
import { type BoneEntry, type BonePatch, bonePatchSchema } from '@/lib/skeletons/schema';
import { GENERAL_PROFILE, type SkeletonProfile } from '@/lib/skeletons/taxa';
import { ELEMENT_STATES, PLACES, type Place, REGION_NAMES, REGIONS } from '@/lib/skeletons/words';

export interface BoneTableProps {
  entries: readonly BoneEntry[];
  profile?: SkeletonProfile;
  readOnly?: boolean;
  onChange?: (key: string, patch: BonePatch) => void;
  /** Cut an element in two, or put its portions together again. */
  onDivide?: (key: string) => void;
  onJoin?: (key: string) => void;
}

const UNDECIDED = 'undecided';

const sayPlace = (place: Place | null): string => (place === null ? say('undecided') : sayCode(place));

interface RowProps extends Pick<BoneTableProps, 'readOnly' | 'onChange' | 'onDivide' | 'onJoin'> {
  rowKey: string;
  entry: BoneEntry;
  /** One a line, so that an unchanged row is seen to be unchanged. */
  problems: string;
}

function CutButton({ rowKey, entry, onDivide, onJoin }: RowProps) {
  const name = elementName(entry.element, entry.side);
  if (!isDivisible(entry.element)) return null;
  const whole = entry.portion === 'whole';
  const act = whole ? onDivide : onJoin;
  if (!act) return null;
  return (
    <Button
      variant="subtle"
      size="compact-sm"
      aria-label={whole ? say('Divide the {name}', { name }) : say('Join the {name}', { name })}
      onClick={() => act(rowKey)}
    >
      {whole ? say('Divide') : say('Join')}
    </Button>
  );
}

const BoneRow = memo(function BoneRow(props: RowProps) {
  const { rowKey, entry, problems, readOnly, onChange } = props;
  const name = `${elementName(entry.element, entry.side)}, ${portionName(entry.element, entry.portion)}`;
  const change = (patch: unknown) => onChange?.(rowKey, bonePatchSchema.parse(patch));
  return (
    <Table.Tr>
      <Table.Th scope="row" fw={400}>
        {elementName(entry.element, entry.side)}{' '}
        <Text span size="sm" fs="italic" lang="la">
          {ELEMENTS[entry.element].term}
        </Text>
      </Table.Th>
      <Table.Td>{portionName(entry.element, entry.portion)}</Table.Td>
      <Table.Td>
        {readOnly ? (
          sayCode(entry.state)
        ) : (
          <NativeSelect
            size="xs"
            aria-label={say('State of the {name}', { name })}
            data={ELEMENT_STATES.map((value) => ({ value, label: sayCode(value) }))}
            value={entry.state}
            onChange={(event) => change({ state: event.currentTarget.value })}
          />
        )}
      </Table.Td>
      <Table.Td>
        {readOnly ? (
          sayPlace(entry.place)
        ) : (
          <NativeSelect
            size="xs"
            aria-label={say('Place of the {name}', { name })}
            data={[
              { value: UNDECIDED, label: sayPlace(null) },
              ...PLACES.map((value) => ({ value, label: sayPlace(value) })),
            ]}
            value={entry.place ?? UNDECIDED}
            onChange={({ currentTarget: { value } }) => change({ place: value === UNDECIDED ? null : value })}
          />
        )}
      </Table.Td>
      <Table.Td>
        {problems
          .split('\n')
          .filter(Boolean)
          .map((problem) => (
            <Text key={problem} size="sm" c="red.8">
              <IconAlertTriangle size={14} aria-hidden="true" /> {problem}
            </Text>
          ))}
        {!readOnly && <CutButton {...props} />}
      </Table.Td>
    </Table.Tr>
  );
});

/** The bone book as a table, region by region: the same content as the drawing, and what is wrong with it. */
export function BoneTable({ entries, profile = GENERAL_PROFILE, ...acts }: BoneTableProps) {
  const keyed = keyEntries(entries);
  const { findings } = checkConservation(entries, profile);
  const problemsOf = (entry: BoneEntry) =>
    findings
      .filter((one) => one.element === entry.element && one.side === entry.side)
      .filter((one) => one.portion === 'whole' || one.portion === entry.portion)
      .map(({ message }) => message)
      .join('\n');
  const unwritten = findings.filter(
    (one) => !entries.some((entry) => entry.element === one.element && entry.side === one.side),
  );
  return (
    <>
      {unwritten.length > 0 && (
        <Text c="red.8" role="status">
          {say('Not in the book: {unwritten}.', {
            unwritten: unwritten.map((one) => elementName(one.element, one.side)).join(', '),
          })}
        </Text>
      )}
      <Table stickyHeader>
        <Table.Thead>
          <Table.Tr>
            {[say('Element'), say('Portion'), say('State'), say('Place'), say('Remarks')].map((head) => (
              <Table.Th key={head} scope="col">
                {head}
              </Table.Th>
            ))}
          </Table.Tr>
        </Table.Thead>
        {REGIONS.map((region) => {
          const own = keyed.filter(({ entry }) => elementOf(entry.element).region === region);
          if (own.length === 0) return null;
          return (
            <Table.Tbody key={region}>
              <Table.Tr>
                <Table.Th scope="rowgroup" colSpan={5}>
                  {REGION_NAMES[region]}
                </Table.Th>
              </Table.Tr>
              {own.map(({ key, entry }) => (
                <BoneRow key={key} rowKey={key} entry={entry} problems={problemsOf(entry)} {...acts} />
              ))}
            </Table.Tbody>
          );
        })}
      </Table>
    </>
  );
}
