'use client';

import { Button, Group } from '@mantine/core';
import { useState } from 'react';
import { ErrorSummary } from '@/components/ui/error-summary';
import { problemOf } from '@/components/ui/problem';
import type { Lendable, LoanLineRecord, LoanRecord } from '@/lib/loans/wire';
import { countOf, say } from '@/lib/platform/words/say';
import { MaterialChoice } from './material-choice';
import { useChooseMaterials } from './queries';

const asChosen = (line: LoanLineRecord): Lendable => ({
  id: line.materialId,
  birdId: line.birdId,
  label: line.label,
  kind: line.kind,
  scientificName: line.scientificName,
  commonName: line.commonName,
  place: line.place,
  problems: [],
});

/** Says which materials a request means, until it is decided upon. */
export function ChooseMaterials({ loan }: { loan: LoanRecord }) {
  const change = useChooseMaterials(loan.id);
  const [open, setOpen] = useState(loan.lines.length === 0);
  const [chosen, setChosen] = useState<Lendable[]>(() => loan.lines.map(asChosen));
  if (!open)
    return (
      <Button variant="default" mb="sm" onClick={() => setOpen(true)}>
        {say('Choose other materials')}
      </Button>
    );
  const problem = problemOf(change.error);
  return (
    <>
      {change.error === null ? null : (
        <ErrorSummary
          title={problem.title}
          attempt={change.failureCount}
          problems={
            problem.fields?.length ? problem.fields : [{ path: 'lines', message: say('Look again.') }]
          }
        />
      )}
      <MaterialChoice kind={loan.kind} chosen={chosen} onChange={setChosen} />
      <Group my="sm">
        <Button
          loading={change.isPending}
          disabled={chosen.length === 0}
          onClick={() => change.mutate({ version: loan.version, materialIds: chosen.map(({ id }) => id) })}
        >
          {chosen.length === 0
            ? say('Choose these')
            : say('Choose {of}', { of: countOf(chosen.length, 'material') })}
        </Button>
        {loan.lines.length === 0 ? null : (
          <Button variant="default" onClick={() => setOpen(false)}>
            {say('Leave it as it is')}
          </Button>
        )}
      </Group>
    </>
  );
}
