'use client';

import { useQuery } from '@tanstack/react-query';
import { ErrorState } from '@/components/ui/error-state';
import { Section } from '@/components/ui/facts';
import { whenSeen } from '@/components/ui/later';
import { Loading } from '@/components/ui/loading';
import { say } from '@/lib/platform/words/say';
import type { MaterialRecord } from '@/lib/storage/schema';
import { BoneQuestions } from './bone-questions';
import { skeletonOptions } from './queries';

const BoneBookPanel = whenSeen(() => import('./bone-book-panel').then((module) => module.BoneBookPanel), 8);
const BoxCount = whenSeen(() => import('./box-count').then((module) => module.BoxCount));
const SkeletonActs = whenSeen(() => import('./skeleton-acts').then((module) => module.SkeletonActs), 6);

/** What the page of a skeleton has beside that of any material: its cleaning, its box and its bone book. */
export function SkeletonSections({ material }: { material: MaterialRecord }) {
  const query = useQuery(skeletonOptions(material.id));
  if (query.error) {
    return (
      <ErrorState
        what={say('The cleaning of this skeleton could not be loaded.')}
        error={query.error}
        onRetry={() => void query.refetch()}
      />
    );
  }
  if (query.data === undefined) return <Loading what={say('Loading the skeleton')} />;
  const detail = query.data;
  const [latest = null] = material.steps;
  const at = detail.procedure?.steps.findIndex(({ id }) => id === detail.step) ?? -1;
  return (
    <>
      <Section
        id="cleaning"
        title={say('Cleaning')}
        note={
          detail.procedure === null
            ? say('No procedure chosen yet.')
            : at < 0
              ? detail.procedure.name
              : say('{name}, step {at} of {length}', {
                  name: detail.procedure.name,
                  at: at + 1,
                  length: detail.procedure.steps.length,
                })
        }
      >
        {detail.abilities.advance ? (
          <SkeletonActs
            skeletons={[{ id: detail.id, state: detail.state, step: latest }]}
            procedures={detail.procedures}
            today={material.today}
          />
        ) : (
          <p>{latest?.name ?? say('Not begun.')}</p>
        )}
      </Section>
      <Section id="box" title={say('Box')} note={say('The bones in hand against the bone book.')}>
        <BoxCount detail={detail} />
        <BoneQuestions questions={detail.questions} mayAnswer={detail.abilities.advance} />
      </Section>
      <Section id="bones" title={say('Bone book')}>
        <BoneBookPanel birdId={material.bird.id} readOnly />
      </Section>
    </>
  );
}
