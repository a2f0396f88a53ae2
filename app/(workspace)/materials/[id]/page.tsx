import { notFound } from 'next/navigation';
import { deskKeys } from '@/components/desk/queries';
import { MaterialRecord } from '@/components/materials/material-record';
import { materialKeys } from '@/components/materials/queries';
import { showBird } from '@/lib/desk/bird';
import { orNull, type RecordParams, readId, requireActor, withQueries } from '@/lib/platform/page';
import { showMaterial } from '@/lib/storage/material-record';

export const metadata = { title: 'Material' };

export default async function MaterialPage({ params }: { params: RecordParams }) {
  const actor = await requireActor('materials.see');
  const id = await readId(params);
  const record = await orNull(showMaterial(actor, id));
  if (record === null) notFound();
  return withQueries(
    [
      { key: materialKeys.record(id), load: async () => record },
      { key: deskKeys.bird(record.bird.id), load: () => showBird(actor, record.bird.id) },
    ],
    <MaterialRecord id={id} />,
  );
}
