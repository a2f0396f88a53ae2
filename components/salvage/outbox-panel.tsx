'use client';

import { Button } from '@mantine/core';
import { useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useState } from 'react';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { sayWith } from '@/components/ui/say-with';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { dropReport, type Sent, sendWaiting, useOutbox, type WaitingReport } from './outbox';
import classes from './salvage.module.css';

const RETRY_MS = 30_000;

/** What waits on this device for a connection. Sends by itself as soon as there is one, and says what became of each. */
export function OutboxPanel({
  personId,
  onMend,
}: {
  personId: string;
  /** Opens a refused report again; without it only its deletion is offered. */
  onMend?: (report: WaitingReport) => void;
}) {
  const reports = useOutbox(personId);
  const [arrived, setArrived] = useState<Sent[]>([]);
  const queries = useQueryClient();
  const open = reports.filter(({ problem }) => problem === null).length;

  const send = useCallback(async () => {
    const sent = await sendWaiting(personId);
    if (sent.length === 0) return;
    setArrived((before) => [...before, ...sent]);
    await queries.invalidateQueries({ queryKey: ['salvage', 'list'] });
  }, [personId, queries]);

  useEffect(() => {
    if (open === 0) return;
    void send();
    const timer = setInterval(() => void send(), RETRY_MS);
    const online = () => void send();
    window.addEventListener('online', online);
    return () => {
      clearInterval(timer);
      window.removeEventListener('online', online);
    };
  }, [open, send]);

  if (reports.length === 0 && arrived.length === 0) return null;
  return (
    <section className={classes.outbox} aria-label={say('Kept on this device')}>
      {reports.length > 0 ? (
        <>
          <p role="status">
            {say(
              '{of} kept on this device, with what you wrote about the finder. They are sent when there is a connection, each once.',
              { of: countOf(reports.length, 'find') },
            )}
          </p>
          <ul>
            {reports.map((one) => (
              <Waiting key={one.report.requestKey} waiting={one} onMend={onMend} />
            ))}
          </ul>
          {open > 0 ? (
            <div>
              <Button variant="default" onClick={() => void send()}>
                {say('Try to send now')}
              </Button>
            </div>
          ) : null}
        </>
      ) : null}
      {arrived.map(({ id, number }) => (
        <p key={id} role="status">
          {sayWith('Arrived: {link}', { link: <Link href={paths.salvageRecord(id)}>{number}</Link> })}
        </p>
      ))}
    </section>
  );
}

function Waiting({
  waiting,
  onMend,
}: {
  waiting: WaitingReport;
  onMend: ((report: WaitingReport) => void) | undefined;
}) {
  const { report, keptAt, problem } = waiting;
  return (
    <li>
      <span>
        {sayWith('{verbatimTaxon}, {locality}, kept {moment}{span}', {
          verbatimTaxon: report.verbatimTaxon,
          locality: report.place.locality,
          moment: <Moment at={keptAt} show="both" />,
          span:
            problem === null ? null : <span role="alert">{say(' Not taken: {problem}', { problem })}</span>,
        })}
      </span>
      {problem === null ? null : (
        <span>
          {onMend === undefined ? null : (
            <Button size="sm" mr="xs" onClick={() => onMend(waiting)}>
              {say('Mend it')}
            </Button>
          )}
          <Button size="sm" variant="default" onClick={() => dropReport(report.requestKey)}>
            {say('Throw it away')}
          </Button>
        </span>
      )}
    </li>
  );
}
