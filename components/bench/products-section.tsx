'use client';

import { Button, NumberInput, TextInput } from '@mantine/core';
import { useState } from 'react';
import { ConfirmInline } from '@/components/ui/confirm-inline';
import { DataList } from '@/components/ui/data-list';
import { MATERIAL_KINDS, type MaterialKind } from '@/lib/bench/schema';
import type { PreparationStyle } from '@/lib/bench/styles';
import type { BenchRecord } from '@/lib/bench/wire';
import { say, sayCode, sayWord } from '@/lib/platform/words/say';
import { DisposalForm } from './disposal-form';
import { Problems } from './problems';
import classes from './products.module.css';
import { useRecordAct } from './queries';

type ProductKind = Exclude<MaterialKind, 'carcass' | 'vial'>;
interface Wanted {
  kind: ProductKind;
  count: number;
  description: string;
}

const isProduct = (kind: MaterialKind): kind is ProductKind => kind !== 'carcass' && kind !== 'vial';

/** Every product that a style may give, with how many are usual; others can be asked for too. */
const usualOf = (style: PreparationStyle): Wanted[] =>
  MATERIAL_KINDS.filter(isProduct).map((kind) => ({
    kind,
    count: style.products.find((product) => product.kind === kind)?.usual ?? 0,
    description: '',
  }));

/** What has come of the bird, and the dividing of its carcass. */
export function ProductsSection({ record }: { record: BenchRecord }) {
  const { abilities, carcassState, products, style } = record;
  const ended = carcassState === 'prepared' || carcassState === 'discarded';
  return (
    <div className={classes.products}>
      <DataList
        label={say('Materials of this bird')}
        columns={[
          { id: 'label', head: say('Number'), cell: (row) => row.label },
          { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
          { id: 'state', head: say('State'), cell: (row) => sayWord(row.state ?? row.custody) },
          { id: 'place', head: say('Place'), cell: (row) => row.place ?? say('no place yet') },
          { id: 'description', head: say('Remarks'), deskOnly: true, cell: (row) => row.description ?? '' },
        ]}
        rows={products}
        rowId={(row) => row.id}
      />
      {style.id === 'discard' && !ended && abilities.write && <DisposalForm record={record} />}
      {style.id !== 'discard' && (abilities.divide || (abilities.write && ended)) && (
        <DivideForm key={`${style.id} ${ended}`} record={record} divided={ended} />
      )}
    </div>
  );
}

function DivideForm({ record, divided }: { record: BenchRecord; divided: boolean }) {
  const divide = useRecordAct(record.id, 'divide');
  const usual = usualOf(record.style);
  const [wanted, setWanted] = useState<Wanted[]>(
    divided ? usual.map((product) => ({ ...product, count: 0 })) : usual,
  );
  const [others, setOthers] = useState(divided);
  const change = (kind: ProductKind, part: Partial<Wanted>) =>
    setWanted((before) => before.map((one) => (one.kind === kind ? { ...one, ...part } : one)));
  const chosen = wanted.filter(({ count }) => count > 0);
  const shown = others
    ? wanted
    : wanted.filter(({ kind }) => usual.some((one) => one.kind === kind && one.count > 0));
  const send = () =>
    divide.mutateAsync({
      products: chosen.map(({ kind, count, description }) => ({
        kind,
        count,
        description: description.trim() === '' ? null : description.trim(),
      })),
    });
  const said = chosen.map(({ kind, count }) => `${count} ${sayCode(kind)}`).join(', ') || say('no product');
  return (
    <div className={classes.divide}>
      <h3>{divided ? say('Something was forgotten') : say('Divide the carcass')}</h3>
      {shown.map(({ kind, count, description }) => (
        <div key={kind} className={classes.row}>
          <NumberInput
            label={sayWord(kind)}
            size="md"
            min={0}
            max={9}
            allowDecimal={false}
            value={count}
            onChange={(value) => change(kind, { count: Number(value) || 0 })}
            w={128}
          />
          <TextInput
            label={say('Remarks on the {replace}', { replace: sayCode(kind) })}
            size="md"
            value={description}
            onChange={(event) => change(kind, { description: event.currentTarget.value })}
            className={classes.remarks}
          />
        </div>
      ))}
      {!others && (
        <Button variant="default" onClick={() => setOthers(true)}>
          {say('Other products')}
        </Button>
      )}
      <p className={classes.note}>
        {say('Tissue vials are filled in their own section, before the carcass is divided.')}
      </p>
      <Problems error={divide.error} />
      <ConfirmInline
        act={divided ? say('Add these products') : say('Divide the carcass')}
        question={
          divided
            ? say('{number} gets {said} besides.', { number: record.number, said })
            : say(
                '{number} becomes {said}. The carcass is used up and the bird is prepared; this cannot be undone.',
                { number: record.number, said },
              )
        }
        confirm={divided ? say('Add them') : say('Divide it')}
        keep={say('Not yet')}
        tone="lead"
        busy={divide.isPending}
        disabled={divided && chosen.length === 0}
        onConfirm={send}
      />
    </div>
  );
}
