'use client';

import { useQuery } from '@tanstack/react-query';
import Link from 'next/link';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { SaveState } from '@/components/ui/save-state';
import { countOf } from '@/components/ui/words';
import { paths } from '@/lib/platform/paths';
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
        what="This count could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  }
  if (record.data === undefined) return <Loading what="Loading the count" lines={8} />;
  const count = record.data;
  return (
    <>
      <DeskHead
        title={`Count of ${count.unitPath.split(' › ').at(-1)}`}
        lede={
          <>
            <Link href={paths.storageUnit(count.unitId)}>{count.unitPath}</Link>, begun by {count.startedBy}{' '}
            <Moment at={count.startedAt} show="both" />
            {count.closedAt !== null && (
              <>
                , closed <Moment at={count.closedAt} show="both" />
              </>
            )}
          </>
        }
        figures={[
          { id: 'expected', label: 'By the book', value: count.expected.toLocaleString('en-GB') },
          { id: 'confirmed', label: 'Seen in their place', value: count.confirmed.toLocaleString('en-GB') },
          { id: 'open', label: 'Not seen yet', value: (count.expected - count.seen).toLocaleString('en-GB') },
          { id: 'findings', label: 'Findings', value: count.findings.length + count.moreFindings },
        ]}
        acts={count.abilities.close ? <Close count={count} /> : null}
      />
      {count.abilities.scan && <Scanning count={count} />}
      <Section
        id="findings"
        title="Findings"
        note={
          count.closedAt === null
            ? 'What was not read yet is called missing only once the count is closed.'
            : undefined
        }
      >
        <CountFindings count={count} />
      </Section>
      <Section id="boxes" title="Boxes" note="What the book has in each.">
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
        act="Close the count"
        question={
          open === 0
            ? 'Everything was read. Close it?'
            : `${countOf(open, 'material')} not read will be listed as missing. Close it?`
        }
        confirm="Close the count"
        keep="Go on counting"
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
      return setMessage({ tone: 'settled', text: `Now in ${box.name}.` });
    }
    if (unit === undefined) return setMessage({ tone: 'attention', text: 'Scan the box first.' });
    const at = unit.grid === null ? null : parsePosition(unit.grid, code);
    if (at?.ok) {
      setPosition(code);
      return setMessage({ tone: 'settled', text: `The next one stands in ${code.toUpperCase()}.` });
    }
    outbox.add({ code, unitId: unit.id, position });
    setPosition(null);
    setMessage({
      tone: 'settled',
      text: `${code} read in ${unit.name}${position === null ? '' : ` ${position.toUpperCase()}`}.`,
    });
  };
  return (
    <Section
      id="scan"
      title="Scan"
      note={
        count.people.length > 1
          ? count.people.map((one) => `${one.name}: ${one.scans}`).join(', ')
          : undefined
      }
    >
      <p className={classes.where}>{unit === undefined ? 'No box chosen yet' : unit.path}</p>
      <ScanBox
        label={unit === undefined ? 'Scan the code of a box' : 'Scan what is in it'}
        help="A position (A4) before a vial says where in the box it stands."
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
      <ol className={classes.scans} aria-label="Read last, by everybody">
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
