'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import type { MaterialRecord } from '@/lib/storage/schema';
import { BoneBookPanel } from './bone-book-panel';
import { BoneQuestions } from './bone-questions';
import { BoxCount } from './box-count';
import { skeletonOptions } from './queries';
import { SkeletonActs } from './skeleton-acts';

/** What the page of a skeleton has beside that of any material: its cleaning, its box and its bone book. */
export function SkeletonSections({ material }: { material: MaterialRecord }) {
  const query = useQuery(skeletonOptions(material.id));
  if (query.error) {
    return (
      <ErrorState
        what="The cleaning of this skeleton could not be loaded."
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    );
  }
  if (query.data === undefined) return <Loading what="Loading the skeleton" />;
  const detail = query.data;
  const [latest = null] = material.steps;
  const at = detail.procedure?.steps.findIndex(({ id }) => id === detail.step) ?? -1;
  return (
    <>
      <Section
        id="cleaning"
        title="Cleaning"
        note={
          detail.procedure === null
            ? 'No procedure chosen yet.'
            : at < 0
              ? detail.procedure.name
              : `${detail.procedure.name}, step ${at + 1} of ${detail.procedure.steps.length}`
        }
      >
        {detail.abilities.advance ? (
          <SkeletonActs
            skeletons={[{ id: detail.id, state: detail.state, step: latest }]}
            procedures={detail.procedures}
            today={material.today}
          />
        ) : (
          <p>{latest?.name ?? 'Not begun.'}</p>
        )}
      </Section>
      <Section id="box" title="Box" note="The bones in hand against the bone book.">
        <BoxCount detail={detail} />
        <BoneQuestions questions={detail.questions} mayAnswer={detail.abilities.advance} />
      </Section>
      <Section id="bones" title="Bone book">
        <BoneBookPanel birdId={material.bird.id} readOnly />
      </Section>
    </>
  );
}
