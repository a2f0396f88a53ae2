'use client';

import { NativeSelect } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { DataList } from '@/components/ui/data-list';
import { EmptyState } from '@/components/ui/empty-state';
import { ListHead } from '@/components/ui/page-head';
import { problemOf } from '@/components/ui/problem';
import { say, sayWord } from '@/lib/platform/words/say';
import {
  PREPARATION_STYLES,
  type PreparationStyle,
  SIZE_CLASSES,
  SKILL_LEVELS,
  type SkillLevel,
} from '@/lib/queue/schema';
import { benchPeopleOptions, useSignSkill } from './queries';

/** Who may do which style and size: alone, beside a supervisor, or to learn it. */
export function SkillTable({ maySign, ownId }: { maySign: boolean; ownId: string | null }) {
  const people = useQuery(benchPeopleOptions());
  const sign = useSignSkill();
  const [style, setStyle] = useState<PreparationStyle>('skin-with-partial-skeleton');
  const levels = [
    { value: '', label: say('not yet') },
    ...SKILL_LEVELS.map((value) => ({ value, label: sayWord(value) })),
  ];
  return (
    <>
      <ListHead
        title={say('Skills')}
        intro={say(
          'A preparator or curator signs a skill off; the queue then offers the birds that fit. Nobody signs their own.',
        )}
      >
        <NativeSelect
          label={say('Style')}
          data={PREPARATION_STYLES.map((value) => ({ value, label: sayWord(value) }))}
          value={style}
          onChange={(event) => setStyle(event.currentTarget.value as PreparationStyle)}
        />
      </ListHead>
      {sign.error === null ? null : <p role="alert">{problemOf(sign.error).title}</p>}
      <DataList
        label={say('Skills for {word}', { word: sayWord(style).toLowerCase() })}
        columns={[
          {
            id: 'name',
            head: say('Person'),
            cell: (row) => (row.supervises ? say('{name} (supervises)', { name: row.name }) : row.name),
          },
          ...SIZE_CLASSES.map((sizeClass) => ({
            id: sizeClass,
            head: sayWord(sizeClass),
            cell: (row: {
              id: string;
              name: string;
              skills: { style: string; sizeClass: string; level: SkillLevel }[];
            }) => {
              const level = row.skills.find(
                (skill) => skill.style === style && skill.sizeClass === sizeClass,
              )?.level;
              if (!maySign || row.id === ownId) return level === undefined ? say('not yet') : sayWord(level);
              return (
                <NativeSelect
                  aria-label={`${row.name}, ${sayWord(sizeClass)}`}
                  data={levels}
                  value={level ?? ''}
                  onChange={(event) =>
                    sign.mutate({
                      personId: row.id,
                      style,
                      sizeClass,
                      level:
                        event.currentTarget.value === '' ? null : (event.currentTarget.value as SkillLevel),
                    })
                  }
                />
              );
            },
          })),
        ]}
        rows={people.data?.people}
        rowId={(row) => row.id}
        loading={people.isFetching}
        error={people.error}
        onRetry={() => void people.refetch()}
        empty={<EmptyState title={say('Nobody works at the bench yet')} />}
      />
    </>
  );
}
