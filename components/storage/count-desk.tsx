'use client';

import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { SaveState } from '@/components/ui/save-state';
import { sayWith } from '@/components/ui/say-with';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { parsePosition } from '@/lib/storage/positions';
import type { CountRecord } from '@/lib/storage/wire-inventory';
import classes from './count-desk.module.css';
import { CountFindings } from './count-findings';
import { countOptions, useCloseCount } from './queries';
import { ScanBox, type ScanMessage } from './scan-box';
import { useScanOutbox } from './scan-outbox';

/** Counting a part of the store: scan a box, then what is in it. Others may scan at the same time. */
export function CountDesk({ id }: { id: string }) {
  const record = useQuery(countOptions(id));
  if (record.error) {
    return (
      <ErrorState
        what={say('This count could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what={say('Loading the count')} lines={8} />;
  const count = record.data;
  return (
    <>
      <DeskHead
        title={say('Count of {at}', { at: count.unitPath.split(' › ').at(-1) })}
        lede={sayWith('{link}, begun by {startedBy} {moment}{closedAt}', {
          link: <Link href={paths.storageUnit(count.unitId)}>{count.unitPath}</Link>,
          startedBy: count.startedBy,
          moment: <Moment at={count.startedAt} show="both" />,
          closedAt:
            count.closedAt !== null &&
            sayWith(', closed {moment}', { moment: <Moment at={count.closedAt} show="both" /> }),
        })}
        figures={[
          {
            id: 'expected',
            label: say('By the book'),
            value: sayNumber(count.expected),
          },
          {
            id: 'confirmed',
            label: say('Seen in their place'),
            value: sayNumber(count.confirmed),
          },
          {
            id: 'open',
            label: say('Not seen yet'),
            value: sayNumber(count.expected - count.seen),
          },
          { id: 'findings', label: say('Findings'), value: count.findings.length + count.moreFindings },
        ]}
        acts={count.abilities.close ? <Close count={count} /> : null}
      />
      {count.abilities.scan && <Scanning count={count} />}
      <Section
        id="findings"
        title={say('Findings')}
        note={
          count.closedAt === null
            ? say('What was not read yet is called missing only once the count is closed.')
            : undefined
        }
      >
        <CountFindings count={count} />
      </Section>
      <Section id="boxes" title={say('Boxes')} note={say('What the book has in each.')}>
        <Boxes count={count} />
      </Section>
    </>
  );
}

function Close({ count }: { count: CountRecord }) {
  const close = useCloseCount(count.id);
  const open = count.expected - count.seen;
  return (
    <>
      {close.error !== null && <p role="alert">{problemOf(close.error).title}</p>}
      <ConfirmInline
        act={say('Close the count')}
        question={
          open === 0
            ? say('Everything was read. Close it?')
            : say('{of} not read will be listed as missing. Close it?', { of: countOf(open, 'material') })
        }
        confirm={say('Close the count')}
        keep={say('Go on counting')}
        tone="lead"
        onConfirm={() => close.mutateAsync({})}
      />
    </>
  );
}

type Unit = CountRecord['units'][number];

/** One box after the other: a box's code chooses it, a position before or after a vial places it, else the box is enough. */
function Scanning({ count }: { count: CountRecord }) {
  const boxes = count.units.filter((unit) => unit.kind !== 'site' && unit.kind !== 'room');
  const [unitId, setUnitId] = useState<string | null>(boxes.length === 1 ? (boxes[0]?.id ?? null) : null);
  const [position, setPosition] = useState<string | null>(null);
  const [message, setMessage] = useState<ScanMessage | null>(null);
  const outbox = useScanOutbox(count.id);
  const unit = boxes.find((one) => one.id === unitId);

  const take = (code: string) => {
    const box = boxes.find((one) => one.code.toUpperCase() === code.toUpperCase());
    if (box !== undefined) {
      setUnitId(box.id);
      setPosition(null);
      return setMessage({ tone: 'settled', text: say('Now in {name}.', { name: box.name }) });
    }
    if (unit === undefined) return setMessage({ tone: 'attention', text: say('Scan the box first.') });
    const at = unit.grid === null ? null : parsePosition(unit.grid, code);
    if (at?.ok) {
      setPosition(code);
      return setMessage({
        tone: 'settled',
        text: say('The next one stands in {code}.', { code: code.toUpperCase() }),
      });
    }
    outbox.add({ code, unitId: unit.id, position });
    setPosition(null);
    setMessage({
      tone: 'settled',
      text: say('{code} read in {name}{x}.', {
        code,
        name: unit.name,
        x: position === null ? '' : ` ${position.toUpperCase()}`,
      }),
    });
  };
  return (
    <Section
      id="scan"
      title={say('Scan')}
      note={
        count.people.length > 1
          ? count.people.map((one) => `${one.name}: ${one.scans}`).join(', ')
          : undefined
      }
    >
      <p className={classes.where}>{unit === undefined ? say('No box chosen yet') : unit.path}</p>
      <ScanBox
        label={unit === undefined ? say('Scan the code of a box') : say('Scan what is in it')}
        help={say('A position (A4) before a vial says where in the box it stands.')}
        message={message}
        autoFocus
        onCode={take}
      />
      <SaveState status={outbox.status} />
      {outbox.refused.map((sentence) => (
        <p key={sentence} role="alert">
          {sentence}
        </p>
      ))}
      <ol className={classes.scans} aria-label={say('Read last, by everybody')}>
        {count.lastScans.map((scan) => (
          <li key={scan.id} data-unknown={!scan.known || undefined}>
            <span>{scan.code}</span>
            <span>{scan.place}</span>
            <span>
              {scan.by}, <Moment at={scan.at} show="time" />
            </span>
          </li>
        ))}
      </ol>
    </Section>
  );
}

function Boxes({ count }: { count: CountRecord }) {
  const rows = count.units.filter((unit: Unit) => unit.expected > 0 || unit.kind === 'box');
  return (
    <ul className={classes.boxes}>
      {rows.map((unit) => (
        <li key={unit.id}>
          <Link href={paths.storageUnit(unit.id)}>{unit.path}</Link>
          <span>{countOf(unit.expected, 'material')}</span>
        </li>
      ))}
    </ul>
  );
}
