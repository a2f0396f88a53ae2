'use client';

import { Button } from '@mantine/core';
import { IconTrash } from '@tabler/icons-react';
import { useEffect } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { LongTextField, SelectField } from '@/components/ui/plain-controls';
import { FIELD_IDS } from '@/lib/bench/fields';
import { say } from '@/lib/platform/words/say';
import classes from './review.module.css';
import { BESIDE_FIELDS, fieldLabel } from './show-value';

export type Remark = { id: string; field: string; remark: string };

const remarkPath = (index: number) => `remarks.${index}.remark`;

const choices = () => [...BESIDE_FIELDS, ...FIELD_IDS].map((value) => ({ value, label: fieldLabel(value) }));

/** Remarks on fields, as they go back to the bench. */
export function RemarkLines({
  remarks,
  newest,
  onChange,
  onAdd,
}: {
  remarks: readonly Remark[];
  /** The remark that was added last: there one goes on writing. */
  newest: string | null;
  onChange: (remarks: Remark[]) => void;
  onAdd: () => void;
}) {
  const patch = (id: string, change: Partial<Remark>) =>
    onChange(remarks.map((remark) => (remark.id === id ? { ...remark, ...change } : remark)));
  const newestAt = remarks.findIndex(({ id }) => id === newest);
  // biome-ignore lint/correctness/useExhaustiveDependencies: where it stands changes when another is taken away; the focus stays
  useEffect(() => document.getElementById(fieldId(remarkPath(newestAt)))?.focus(), [newest]);
  return (
    <>
      {remarks.map((remark, index) => (
        <div key={remark.id} className={classes.remark}>
          <SelectField
            label={say('About')}
            options={choices()}
            value={remark.field}
            onChange={(field) => patch(remark.id, { field })}
          />
          <LongTextField
            name={remarkPath(index)}
            label={say('What should be done')}
            rows={1}
            value={remark.remark}
            onChange={(text) => patch(remark.id, { remark: text })}
          />
          <Button
            variant="default"
            size="md"
            px="sm"
            aria-label={say('Take away the remark on {fieldLabel}', { fieldLabel: fieldLabel(remark.field) })}
            onClick={() => onChange(remarks.filter(({ id }) => id !== remark.id))}
          >
            <IconTrash size={18} stroke={1.5} aria-hidden="true" />
          </Button>
        </div>
      ))}
      <div>
        <Button variant="subtle" onClick={onAdd}>
          {say('One more remark')}
        </Button>
      </div>
    </>
  );
}
