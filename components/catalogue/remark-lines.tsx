'use client';

import { ActionIcon, Button, NativeSelect, Textarea } from '@mantine/core';
import { IconTrash } from '@tabler/icons-react';
import { useEffect } from 'react';
import { fieldId } from '@/components/ui/field-id';
import { FIELD_IDS } from '@/lib/bench/fields';
import { say } from '@/lib/platform/words/say';
import classes from './review.module.css';
import { BESIDE_FIELDS, fieldLabel } from './show-value';

export type Remark = { id: string; field: string; remark: string };

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
  useEffect(() => {
    if (newest !== null) document.querySelector<HTMLElement>(`[data-remark="${newest}"]`)?.focus();
  }, [newest]);
  return (
    <>
      {remarks.map((remark, index) => (
        <div key={remark.id} className={classes.remark}>
          <NativeSelect
            label={say('About')}
            data={choices()}
            value={remark.field}
            onChange={(event) => patch(remark.id, { field: event.currentTarget.value })}
          />
          <Textarea
            id={fieldId(`remarks.${index}.remark`)}
            label={say('What should be done')}
            autosize
            minRows={1}
            data-remark={remark.id}
            value={remark.remark}
            onChange={(event) => patch(remark.id, { remark: event.currentTarget.value })}
          />
          <ActionIcon
            variant="default"
            size={42}
            aria-label={say('Take away the remark on {fieldLabel}', { fieldLabel: fieldLabel(remark.field) })}
            onClick={() => onChange(remarks.filter(({ id }) => id !== remark.id))}
          >
            <IconTrash size={18} stroke={1.5} aria-hidden="true" />
          </ActionIcon>
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
