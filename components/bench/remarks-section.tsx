'use client';

import { whenSeen } from '@/components/ui/later';
import { Moment } from '@/components/ui/moment';
import { FIELDS, isFieldId } from '@/lib/bench/fields';
import type { BenchRecord } from '@/lib/bench/wire';
import classes from './review.module.css';

const RemarkAnswer = whenSeen(() => import('./remark-answer').then((module) => module.RemarkAnswer), 2);

/** What a reviewer wrote, each with its answer. */
export function RemarksSection({ record }: { record: BenchRecord }) {
  return (
    <ul className={classes.remarks}>
      {record.remarks.map((remark) => (
        <li key={remark.id} data-open={remark.answer === null || undefined}>
          <p>
            <b>{isFieldId(remark.field) ? FIELDS[remark.field].label : remark.field}:</b> {remark.remark}
            <span className={classes.small}>
              {remark.by.name}, <Moment at={remark.at} show="both" />
            </span>
          </p>
          {remark.answer ? (
            <p className={classes.answer}>
              {remark.answer.text}
              <span className={classes.small}>
                {remark.answer.by.name}, <Moment at={remark.answer.at} show="both" />
              </span>
            </p>
          ) : (
            record.abilities.write && <RemarkAnswer recordId={record.id} remark={remark} />
          )}
        </li>
      ))}
    </ul>
  );
}
