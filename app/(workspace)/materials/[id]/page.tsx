import { notFound } from 'next/navigation';
import { deskKeys } from '@/components/desk/queries';
import { MaterialRecord } from '@/components/materials/material-record';
import { materialKeys } from '@/components/materials/queries';
import { skeletonKeys } from '@/components/skeletons/queries';
import { showBird } from '@/lib/desk/bird';
import { orNull, type RecordParams, readId, requireActor, titled, withQueries } from '@/lib/platform/page';
import { showBoneBook } from '@/lib/skeletons/book';
import { showSkeleton } from '@/lib/skeletons/box';
import { showMaterial } from '@/lib/storage/material-record';

export const generateMetadata = titled('Material');

export default async function MaterialPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('materials.see');
  const id = await readId(params);
  const record = await orNull(showMaterial(actor, id));
  if (record === null) notFound();
  const { bird, kind } = record;
  const own =
    kind === 'skeleton'
      ? [
          { key: skeletonKeys.detail(id), load: () => showSkeleton(actor, id) },
          { key: skeletonKeys.book(bird.id), load: () => showBoneBook(actor, bird.id) },
        ]
      : [];
  return withQueries(
    [
      { key: materialKeys.record(id), load: async () => record },
      { key: deskKeys.bird(bird.id), load: () => showBird(actor, bird.id) },
      ...own,
    ],
    <MaterialRecord id={id} />,
  );
}
