'use client';

import { Button } from '@mantine/core';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { NotRecorded } from '@/components/ui/number-with-unit';
import { StateBadge } from '@/components/ui/state-badge';
import { listSections } from '@/lib/bench/fields';
import type { BenchField, ReviewRecord } from '@/lib/catalogue/wire';
import { say } from '@/lib/platform/words/say';
import classes from './review.module.css';
import { fieldLabel, showMethod, showValue } from './show-value';

type Warning = ReviewRecord['warnings'][number];

/** What is known of a value: how, what it replaced, and what the checks say of it. */
function Known({ field, warnings }: { field: BenchField; warnings: readonly Warning[] }) {
  const method = showMethod(field.field, field.method);
  return (
    <>
      {method === null ? null : <div>{method}</div>}
      {field.superseded.map((one) => (
        <div key={`${one.at}${JSON.stringify(one.value)}`}>
          {say('before: ')}
          <del>{showValue(field.field, one.value)}</del> ({one.by})
        </div>
      ))}
      {warnings.map((warning) => (
        <div key={warning.key} className={classes.warning}>
          <StateBadge tone="attention">{warning.sentence}</StateBadge>
          {warning.explained === null ? null : (
            <div>{say('Explained: {explained}', { explained: warning.explained })}</div>
          )}
        </div>
      ))}
    </>
  );
}

/** The whole bench record, section by section in the order of the work. `onRemark` offers a remark on each field. */
export function BenchValues({
  fields,
  warnings = [],
  changed = new Set(),
  onRemark,
}: {
  fields: readonly BenchField[];
  warnings?: readonly Warning[];
  /** Fields that changed since the last return. */
  changed?: ReadonlySet<string>;
  onRemark?: (field: string) => void;
}) {
  const byId = new Map(fields.map((field) => [field.field, field]));
  return listSections().map(({ id, label, fields: ids }) => {
    const own = ids.flatMap((fieldId) => byId.get(fieldId) ?? []);
    return (
      <Section key={id} id={id} title={label}>
        {own.length === 0 ? <NotRecorded>{say('nothing recorded here')}</NotRecorded> : null}
        <Facts>
          {own.map((field) => (
            <Fact
              key={field.field}
              term={fieldLabel(field.field)}
              note={<Known field={field} warnings={warnings.filter((one) => one.field === field.field)} />}
              wide={typeof field.value === 'string' && field.value.length > 60}
            >
              <span className={classes.value} data-new={changed.has(field.field) || undefined}>
                {showValue(field.field, field.value)}
              </span>
              {changed.has(field.field) ? <small>{say(' changed since the return')}</small> : null}
              {onRemark === undefined ? null : (
                <Button
                  size="compact-sm"
                  variant="subtle"
                  className="f-screen-only"
                  aria-label={say('Remark on {fieldLabel}', { fieldLabel: fieldLabel(field.field) })}
                  onClick={() => onRemark(field.field)}
                >
                  {say('Remark')}
                </Button>
              )}
            </Fact>
          ))}
        </Facts>
      </Section>
    );
  });
}
