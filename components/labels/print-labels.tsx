'use client';

import { Button, Group, NativeSelect, NumberInput, Stack } from '@mantine/core';
import { useLocalStorage } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import type { PrintedKind } from '@/lib/labels/wire';
import { countOf, say } from '@/lib/platform/words/say';
import { type LabelRequest, labelAddress, labelCheckOptions } from './queries';

const STRAIGHT = { offsetX: '0', offsetY: '0', measuredX: '100', measuredY: '100' };

/**
 * Prints labels: on which stock, from which label of a half-used sheet. Says before printing what would not fit and
 * what the record lacks. How far the printer is off is kept on this device.
 */
export function PrintLabels({
  kind,
  name,
  ids,
  inUnit,
}: {
  kind: PrintedKind;
  /** Words on the button that opens it. */
  name: string;
  ids?: readonly string[];
  /** Everything of this kind in a unit of the store, instead of ids. */
  inUnit?: string;
}) {
  const [open, setOpen] = useState(false);
  return (
    <Stack gap="sm" align="flex-start" mb="sm" className="f-screen-only">
      <Button variant="default" aria-expanded={open} onClick={() => setOpen(!open)}>
        {name}
      </Button>
      {open && <Sheet kind={kind} target={inUnit === undefined ? { ids: ids?.join(',') } : { in: inUnit }} />}
    </Stack>
  );
}

function Sheet({ kind, target }: { kind: PrintedKind; target: LabelRequest }) {
  const [stock, setStock] = useState<string>();
  const [startAt, setStartAt] = useState<string | number>(1);
  const [printer, setPrinter] = useLocalStorage({ key: 'furcula-printer', defaultValue: STRAIGHT });
  const request: LabelRequest = { ...target, stock, startAt: String(startAt || 1), ...printer };
  const check = useQuery(labelCheckOptions(kind, request));
  if (check.error !== null) {
    const problem = problemOf(check.error);
    return (
      <p role="alert">
        {problem.title} {problem.fields?.map((field) => field.message).join(' ')}{' '}
        <Button variant="subtle" onClick={() => setStartAt(1)}>
          {say('Begin at label 1')}
        </Button>
      </p>
    );
  }
  if (check.data === undefined) return <p role="status">{say('Looking whether they fit…')}</p>;
  const { labels, pages, stocks, problems, lacks } = check.data;
  const chosen = stocks.find((one) => one.id === check.data.stock);
  return (
    <Stack gap="sm" maw={720}>
      <Group align="flex-end">
        <NativeSelect
          label={say('On|label stock')}
          data={stocks.map((one) => ({ value: one.id, label: one.name }))}
          value={stock ?? check.data.stock}
          onChange={(event) => {
            setStock(event.currentTarget.value);
            setStartAt(1);
          }}
        />
        {chosen !== undefined && chosen.perPage > 1 && (
          <NumberInput
            label={say('Begin at label')}
            description={say('1 to {perPage}', { perPage: chosen.perPage })}
            min={1}
            max={chosen.perPage}
            w={136}
            value={startAt}
            onChange={setStartAt}
          />
        )}
      </Group>
      <Printer printer={printer} onChange={setPrinter} />
      {lacks.map((lack) => (
        <p key={lack.label}>
          <StateBadge tone="attention">
            {say('{label} prints without: {facts}', { label: lack.label, facts: lack.facts.join(', ') })}
          </StateBadge>
        </p>
      ))}
      {problems.length > 0 ? (
        <div role="alert">
          <StateBadge tone="stop">{say('Nothing is printed until everything fits')}</StateBadge>
          <ul>
            {problems.map((problem) => (
              <li key={`${problem.item} ${problem.field}`}>
                {problem.label}, {problem.field}: {problem.message}
              </li>
            ))}
          </ul>
        </div>
      ) : (
        <Group>
          <Button component="a" href={labelAddress(kind, request)} target="_blank" rel="noopener">
            {say('Print {of} on {of2}', { of: countOf(labels, 'label'), of2: countOf(pages, 'page') })}
          </Button>
          <span>{say('At 100 %, not “fit to page”.')}</span>
        </Group>
      )}
    </Stack>
  );
}

type Straight = typeof STRAIGHT;

/** What a ruler on a test print says the printer is off by. */
function Printer({ printer, onChange }: { printer: Straight; onChange: (printer: Straight) => void }) {
  const isOff = Object.keys(STRAIGHT).some(
    (key) => printer[key as keyof Straight] !== STRAIGHT[key as keyof Straight],
  );
  const field = (key: keyof Straight, label: string) => (
    <NumberInput
      label={label}
      w={184}
      step={0.5}
      value={printer[key]}
      onChange={(value) => onChange({ ...printer, [key]: String(value === '' ? STRAIGHT[key] : value) })}
    />
  );
  return (
    <details>
      <summary>{say('Printer{x}', { x: isOff ? say(', set by hand') : '' })}</summary>
      <p>{say('Print once, lay a ruler on it, and say what it shows. Kept on this device.')}</p>
      <Group align="flex-end">
        {field('offsetX', say('Too far right, in mm'))}
        {field('offsetY', say('Too far down, in mm'))}
        {field('measuredX', say('100 mm across measure'))}
        {field('measuredY', say('100 mm down measure'))}
      </Group>
    </details>
  );
}
