import { DataList } from '@/components/ui/data-list';
import { StateBadge } from '@/components/ui/state-badge';
import type { RecordMaterial } from '@/lib/catalogue/wire';
import { paths } from '@/lib/platform/paths';
import { say, sayWord } from '@/lib/platform/words/say';

function Custody({ material }: { material: RecordMaterial }) {
  const { custody, deaccession } = material;
  if (deaccession !== null)
    return (
      <StateBadge tone="stop">
        {say('{word} on {on}{x} ({authority}, {document})', {
          word: sayWord(deaccession.method),
          on: deaccession.on,
          x:
            deaccession.recipient === null
              ? ''
              : say(' to {recipient}', { recipient: deaccession.recipient }),
          authority: deaccession.authority,
          document: deaccession.document,
        })}
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
        vial.amountLeft === null ? say('never measured') : `${vial.amountLeft} ${vial.amountUnit}`,
        vial.preservation,
        vial.qualityClass === null
          ? say('quality not known')
          : say('quality class {qualityClass}', { qualityClass: vial.qualityClass }),
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
      label={say('Materials of this bird')}
      columns={[
        { id: 'label', head: say('Number'), cell: (row) => row.label },
        { id: 'kind', head: say('Kind'), cell: (row) => sayWord(row.kind) },
        { id: 'state', head: say('Progress'), cell: (row) => (row.state === null ? '' : sayWord(row.state)) },
        { id: 'custody', head: say('Custody'), cell: (row) => <Custody material={row} /> },
        { id: 'what', head: say('What it is'), cell: (row) => row.description ?? sayVial(row) },
        ...(linked
          ? [
              {
                id: 'place',
                head: say('Place'),
                cell: (row: RecordMaterial) => row.place ?? say('no place noted'),
              },
            ]
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
