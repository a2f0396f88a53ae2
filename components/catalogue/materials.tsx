import { DataList } from '@/components/ui/data-list';
import { StateBadge } from '@/components/ui/state-badge';
import { sayWord } from '@/components/ui/words';
import type { RecordMaterial } from '@/lib/catalogue/wire';
import { paths } from '@/lib/platform/paths';

function Custody({ material }: { material: RecordMaterial }) {
  const { custody, deaccession } = material;
  if (deaccession !== null)
    return (
      <StateBadge tone="stop">
        {sayWord(deaccession.method)} on {deaccession.on}
        {deaccession.recipient === null ? '' : ` to ${deaccession.recipient}`} ({deaccession.authority},{' '}
        {deaccession.document})
      </StateBadge>
    );
  const tone = custody === 'on-shelf' ? 'settled' : custody === 'missing' ? 'stop' : 'attention';
  return <StateBadge tone={tone}>{sayWord(custody)}</StateBadge>;
}

const sayVial = ({ vial }: RecordMaterial): string =>
  vial === null
    ? ''
    : [
        vial.tissues.map(sayWord).join(', '),
        vial.amountLeft === null ? 'never measured' : `${vial.amountLeft} ${vial.amountUnit}`,
        vial.preservation,
        vial.qualityClass === null ? 'quality not known' : `quality class ${vial.qualityClass}`,
      ].join(', ');

/** What was made of the bird: each with its number, progress, custody and place. */
export function Materials({
  materials,
  linked,
}: {
  materials: readonly RecordMaterial[];
  /** Whether this reader may open the pages of materials. */
  linked: boolean;
}) {
  return (
    <DataList
      label="Materials of this bird"
      columns={[
        { id: 'label', head: 'Number', cell: (row) => row.label },
        { id: 'kind', head: 'Kind', cell: (row) => sayWord(row.kind) },
        { id: 'state', head: 'Progress', cell: (row) => (row.state === null ? '' : sayWord(row.state)) },
        { id: 'custody', head: 'Custody', cell: (row) => <Custody material={row} /> },
        { id: 'what', head: 'What it is', cell: (row) => row.description ?? sayVial(row) },
        ...(linked
          ? [{ id: 'place', head: 'Place', cell: (row: RecordMaterial) => row.place ?? 'no place noted' }]
          : []),
      ]}
      rows={materials}
      rowId={(row) => row.id}
      rowHref={
        linked ? (row) => (row.kind === 'vial' ? paths.vial(row.id) : paths.material(row.id)) : undefined
      }
    />
  );
}
