'use client';

import { Button, Group, Text } from '@mantine/core';
import { useMemo, useState } from 'react';
import { Link } from '@/components/ui/link';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
import { say } from '@/lib/platform/words/say';
import { formatPosition, parsePosition } from '@/lib/storage/positions';
import type { Grid } from '@/lib/storage/schema';
import type { MaterialSpot, Occupant, UnitRecord } from '@/lib/storage/wire';
import { BoxMap, type BoxOccupant, lookWords } from './box-map';
import { findCode, useMoveMaterials } from './queries';
import { ScanBox, type ScanMessage } from './scan-box';
import classes from './storage.module.css';

export const pageOfMaterial = ({
  kind,
  materialId,
  birdId,
}: {
  kind: string;
  materialId: string;
  birdId: string;
}) =>
  kind === 'vial'
    ? paths.vial(materialId)
    : kind === 'carcass'
      ? paths.bird(birdId)
      : paths.material(materialId);

/** A box: its map, what is chosen in it, and a scan box that takes a vial and then a position. */
export function BoxDesk({ unit, grid }: { unit: UnitRecord; grid: Grid }) {
  const [selected, setSelected] = useState<number | null>(null);
  const move = useMoveMaterials();
  const [message, setMessage] = useState<ScanMessage | null>(null);
  const occupants = useMemo(() => mapOf(unit), [unit]);
  const all = [...unit.occupants, ...unit.away];
  const chosen = selected === null ? undefined : all.find((one) => one.index === selected);

  const put = (materialId: string, label: string, position: string | null) =>
    move.mutate(
      { moves: [{ materialId, to: position === null ? null : { unitId: unit.id, position } }] },
      {
        onSuccess: () =>
          setMessage({
            tone: 'settled',
            text:
              position === null
                ? say('{label} taken out.', { label })
                : say('{label} lies in {position} now.', { label, position }),
          }),
        onError: (error) =>
          setMessage({ tone: 'stop', text: problemOf(error).title ?? say('Nothing was moved.') }),
      },
    );
  const handleMove = (from: number, to: number) => {
    const material = unit.occupants.find((one) => one.index === from);
    if (material !== undefined) put(material.materialId, material.label, formatPosition(grid, to));
  };
  return (
    <div className={classes.boxDesk}>
      <div>
        <BoxMap
          name={unit.name}
          grid={grid}
          occupants={occupants}
          selected={selected}
          onSelect={setSelected}
          onMove={unit.abilities.move ? handleMove : undefined}
        />
        <Legend />
      </div>
      <div>
        {unit.abilities.move && (
          <ScanToPosition
            unit={unit}
            grid={grid}
            selected={selected}
            busy={move.isPending}
            message={message}
            onMessage={setMessage}
            onPut={(spot, position) => {
              put(spot.materialId, spot.label, position);
              setSelected(null);
            }}
          />
        )}
        {selected !== null && (
          <Chosen
            position={formatPosition(grid, selected)}
            material={chosen}
            busy={move.isPending}
            onTake={(material) => put(material.materialId, material.label, null)}
          />
        )}
        {selected === null && (
          <Text size="sm" c="dimmed" mt="sm">
            {say(
              'Choose a position to see what stands there. Arrow keys walk the box; M picks up and puts down.',
            )}
          </Text>
        )}
      </div>
    </div>
  );
}

function mapOf(unit: UnitRecord): Map<number, BoxOccupant> {
  const entries = [...unit.away, ...unit.occupants].flatMap((one): [number, BoxOccupant][] =>
    one.index === null
      ? []
      : [
          [
            one.index,
            {
              materialId: one.materialId,
              label: `${one.label}, ${one.what}`,
              mark: one.mark,
              look: one.look,
            },
          ],
        ],
  );
  return new Map(entries);
}

/** A vial first, then where it goes: a position typed or scanned, or the one chosen on the map. */
function ScanToPosition(props: {
  unit: UnitRecord;
  grid: Grid;
  selected: number | null;
  busy: boolean;
  message: ScanMessage | null;
  onMessage: (message: ScanMessage | null) => void;
  onPut: (spot: MaterialSpot, position: string) => void;
}) {
  const { unit, grid, selected, onMessage, onPut } = props;
  const [held, setHeld] = useState<MaterialSpot | null>(null);
  const [busy, setBusy] = useState(false);
  const taken = new Set(unit.occupants.map((one) => one.index));
  const free = Array.from({ length: grid.rows * grid.columns }, (_, at) => at).find((at) => !taken.has(at));

  const putDown = (position: number) => {
    if (held === null) return;
    onPut(held, formatPosition(grid, position));
    setHeld(null);
  };
  const take = async (code: string) => {
    onMessage(null);
    const position = held === null ? null : parsePosition(grid, code);
    if (position?.ok) return putDown(position.value);
    setBusy(true);
    try {
      const answer = await findCode(code);
      if (answer.found === 'material') {
        const { material } = answer;
        if (!material.mayMove)
          onMessage({
            tone: 'attention',
            text: say('{label} is not yours to move.', { label: material.label }),
          });
        else setHeld(material);
      } else {
        const what =
          answer.found === 'unit' ? answer.unit.name : say('bird {number}', { number: answer.bird.number });
        onMessage({
          tone: 'attention',
          text: say('That is {what}. Scan a vial, then say its position.', { what }),
        });
      }
    } catch (error) {
      const text =
        position && !position.ok ? position.message : (problemOf(error).title ?? say('Not found.'));
      onMessage({ tone: 'attention', text });
    } finally {
      setBusy(false);
    }
  };
  return (
    <div>
      <ScanBox
        label={held === null ? say('Scan a vial') : say('Position for {label}', { label: held.label })}
        help={
          held === null
            ? say('Then its position, or choose it on the map.')
            : say('{x} Scan another vial to change your mind.', {
                x:
                  held.place === null
                    ? say('It has no place yet.')
                    : say('It lies in {place}.', { place: held.place }),
              })
        }
        busy={busy || props.busy}
        message={props.message}
        onCode={(code) => void take(code)}
      />
      {held !== null && (
        <Group gap="xs">
          {selected !== null && !taken.has(selected) && (
            <Button onClick={() => putDown(selected)}>
              {say('Put it into {position}', { position: formatPosition(grid, selected) })}
            </Button>
          )}
          {free !== undefined && free !== selected && (
            <Button variant="default" onClick={() => putDown(free)}>
              {say('Put it into the next free, {position}', { position: formatPosition(grid, free) })}
            </Button>
          )}
          <Button variant="subtle" onClick={() => setHeld(null)}>
            {say('Leave it')}
          </Button>
        </Group>
      )}
    </div>
  );
}

function Chosen({
  position,
  material,
  busy,
  onTake,
}: {
  position: string;
  material: Occupant | undefined;
  busy: boolean;
  onTake: (material: Occupant) => void;
}) {
  return (
    <div className={classes.chosen}>
      <h3>{position}</h3>
      {material === undefined ? (
        <p>{say('Free.')}</p>
      ) : (
        <>
          <p>
            <Link href={pageOfMaterial(material)}>{material.label}</Link>, {material.what}
          </p>
          <p>
            <TaxonName scientific={material.scientificName} />
          </p>
          <StateBadge
            tone={
              material.look === 'missing' ? 'stop' : material.look === 'on-loan' ? 'attention' : 'settled'
            }
          >
            {material.custody === 'on-shelf'
              ? lookWords[material.look]
              : say('{lookwords}; its place is kept here', { lookwords: lookWords[material.look] })}
          </StateBadge>
          {material.mayMove && material.custody === 'on-shelf' && (
            <div className={classes.acts}>
              <Button variant="default" loading={busy} onClick={() => onTake(material)}>
                {say('Take it out')}
              </Button>
            </div>
          )}
        </>
      )}
    </div>
  );
}

function Legend() {
  return (
    <ul className={classes.legend} aria-label={say('How vials are drawn')}>
      <li>{say('filled: stored')}</li>
      <li>{say('lined: partly used')}</li>
      <li>{say('dotted: out on loan')}</li>
      <li>{say('crossed: missing')}</li>
      <li>{say('small ring: free')}</li>
    </ul>
  );
}
