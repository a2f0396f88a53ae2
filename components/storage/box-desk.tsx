'use client';

import { Button, Group, Text } from '@mantine/core';
import Link from 'next/link';
import { useMemo, useState } from 'react';
import { problemOf } from '@/components/ui/problem';
import { StateBadge } from '@/components/ui/state-badge';
import { TaxonName } from '@/components/ui/taxon-name';
import { paths } from '@/lib/platform/paths';
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
            text: position === null ? `${label} taken out.` : `${label} lies in ${position} now.`,
          }),
        onError: (error) =>
          setMessage({ tone: 'stop', text: problemOf(error).title ?? 'Nothing was moved.' }),
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
            Choose a position to see what stands there. Arrow keys walk the box; M picks up and puts down.
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
          onMessage({ tone: 'attention', text: `${material.label} is not yours to move.` });
        else setHeld(material);
      } else {
        const what = answer.found === 'unit' ? answer.unit.name : `bird ${answer.bird.number}`;
        onMessage({ tone: 'attention', text: `That is ${what}. Scan a vial, then say its position.` });
      }
    } catch (error) {
      const text = position && !position.ok ? position.message : (problemOf(error).title ?? 'Not found.');
      onMessage({ tone: 'attention', text });
    } finally {
      setBusy(false);
    }
  };
  return (
    <div>
      <ScanBox
        label={held === null ? 'Scan a vial' : `Position for ${held.label}`}
        help={
          held === null
            ? 'Then its position, or choose it on the map.'
            : `${held.place === null ? 'It has no place yet.' : `It lies in ${held.place}.`} Scan another vial to change your mind.`
        }
        busy={busy || props.busy}
        message={props.message}
        onCode={(code) => void take(code)}
      />
      {held !== null && (
        <Group gap="xs">
          {selected !== null && !taken.has(selected) && (
            <Button onClick={() => putDown(selected)}>Put it into {formatPosition(grid, selected)}</Button>
          )}
          {free !== undefined && free !== selected && (
            <Button variant="default" onClick={() => putDown(free)}>
              Put it into the next free, {formatPosition(grid, free)}
            </Button>
          )}
          <Button variant="subtle" onClick={() => setHeld(null)}>
            Leave it
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
        <p>Free.</p>
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
              : `${lookWords[material.look]}; its place is kept here`}
          </StateBadge>
          {material.mayMove && material.custody === 'on-shelf' && (
            <div className={classes.acts}>
              <Button variant="default" loading={busy} onClick={() => onTake(material)}>
                Take it out
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
    <ul className={classes.legend} aria-label="How vials are drawn">
      <li>filled: stored</li>
      <li>lined: partly used</li>
      <li>dotted: out on loan</li>
      <li>crossed: missing</li>
      <li>small ring: free</li>
    </ul>
  );
}
