'use client';

import { Checkbox, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { countOf, say } from '@/lib/platform/words/say';
import type { PlanGuest } from '@/lib/queue/plan-wire';
import { fromClock, toClock } from './minutes';
import { benchPeopleOptions } from './queries';

const USUAL = { fromMinute: 9 * 60, untilMinute: 17 * 60 };

/** Who comes, from when until when. */
export function GuestPicker({
  guests,
  onChange,
}: {
  guests: readonly PlanGuest[];
  onChange: (guests: PlanGuest[]) => void;
}) {
  const people = useQuery(benchPeopleOptions());
  const guestOf = (id: string) => guests.find(({ personId }) => personId === id);
  const set = (id: string, patch: Partial<PlanGuest>) =>
    onChange(guests.map((guest) => (guest.personId === id ? { ...guest, ...patch } : guest)));
  const toggle = (id: string, comes: boolean) =>
    onChange(
      comes ? [...guests, { personId: id, ...USUAL }] : guests.filter(({ personId }) => personId !== id),
    );
  const timeField = (name: string, id: string, end: 'fromMinute' | 'untilMinute', label: string) => {
    const guest = guestOf(id);
    if (guest === undefined) return '';
    return (
      <TextInput
        type="time"
        aria-label={`${name}, ${label}`}
        value={toClock(guest[end])}
        error={
          end === 'untilMinute' && guest.fromMinute >= guest.untilMinute ? say('Before coming') : undefined
        }
        onChange={(event) => {
          const minutes = fromClock(event.currentTarget.value);
          if (minutes !== null) set(id, { [end]: minutes });
        }}
      />
    );
  };
  return (
    <DataList
      label={say('Who comes')}
      columns={[
        {
          id: 'name',
          head: say('Person'),
          cell: (row) => (
            <Checkbox
              label={row.supervises ? say('{name} (supervises)', { name: row.name }) : row.name}
              checked={guestOf(row.id) !== undefined}
              onChange={(event) => toggle(row.id, event.currentTarget.checked)}
            />
          ),
        },
        { id: 'from', head: say('Comes'), cell: (row) => timeField(row.name, row.id, 'fromMinute', 'comes') },
        {
          id: 'until',
          head: say('Leaves'),
          cell: (row) => timeField(row.name, row.id, 'untilMinute', 'leaves'),
        },
        {
          id: 'skills',
          head: say('Skills'),
          deskOnly: true,
          cell: (row) =>
            row.skills.length === 0 ? say('none signed off') : countOf(row.skills.length, 'skill'),
        },
      ]}
      rows={people.data?.people}
      rowId={(row) => row.id}
      loading={people.isPending}
      error={people.error}
      onRetry={() => void people.refetch()}
      empty={<EmptyState title={say('Nobody works at the bench yet')} />}
    />
  );
}
