import { html } from 'htm/preact';
import type { VNode } from 'preact';
import type { Cells } from '../../desk/told/cells.ts';
import { standingPlace, tellByForm } from '../../desk/told/form.ts';
import type { FormTable, Said } from '../../desk/told/form.ts';
import { page, seeOther } from '../answer.ts';
import type { Answer } from '../answer.ts';
import { leaf } from '../layout.ts';
import type { Places } from '../records.ts';
import { NothingHere, rowOf, signedIn } from '../visit.ts';
import type { Visit } from '../visit.ts';
import { cellsIn, tableForm } from './fields.ts';
import { history } from './history.ts';
import { outletsKnown } from './outlets.ts';

/** The tables of places, each with what a form calls one of them. */
const CALLED = { properties: 'property', rooms: 'room', units: 'unit', models: 'model' } as const;
type PlaceTable = keyof typeof CALLED;

const isTable = (word: string): word is PlaceTable => Object.hasOwn(CALLED, word);

const roomPath = ({ seal }: Visit, propertyId: number, room: string): string =>
  `/places/properties/${seal.id('property', propertyId)}/rooms/${encodeURIComponent(room)}`;

function list(title: string, table: PlaceTable, head: readonly string[], rows: readonly VNode[]): VNode {
  return html`<h2>${title}</h2>
    ${
      rows.length === 0
        ? html`<p>None is on record.</p>`
        : html`<div class="scroll" tabindex="0" role="group" aria-label=${title}>
            <table>
              <thead>
                <tr>
                  ${head.map((name) => html`<th scope="col">${name}</th>`)}
                </tr>
              </thead>
              <tbody>
                ${rows}
              </tbody>
            </table>
          </div>`
    }
    <p><a class="tap" href=${`/places/${table}/new`}>Enter a ${CALLED[table]}</a></p>`;
}

/** Where units stand, and what they are. */
export async function placesPage(visit: Visit): Promise<Answer> {
  const { seal, side } = visit;
  const { properties, rooms, units, models } = await side.records.places();
  const nameOf = new Map(properties.map(({ id, name }) => [id, name]));
  const body = html`
    ${list(
      'Properties',
      'properties',
      ['Name', 'Address', 'Elevation', 'Zone', 'In danger'],
      properties.map(
        ({ id, name, streetAddress, elevationM, zone, emergencyNumber }) =>
          html`<tr>
            <td><a href=${`/places/properties/${seal.id('property', id)}`}>${name}</a></td>
            <td>${streetAddress}</td>
            <td class="figure">${elevationM} m</td>
            <td>${zone}</td>
            <td class="figure">${emergencyNumber}</td>
          </tr>`,
      ),
    )}
    ${list(
      'Rooms',
      'rooms',
      ['Room', 'Property'],
      rooms.map(
        ({ propertyId, room }) =>
          html`<tr>
            <td><a href=${roomPath(visit, propertyId, room)}>${room}</a></td>
            <td>${nameOf.get(propertyId)}</td>
          </tr>`,
      ),
    )}
    <p class="faint">
      Once a property has rooms here, rentals of it may name only these. Other rooms are reached from their rentals.
    </p>
    ${list(
      'Units',
      'units',
      ['Tag', 'Model'],
      units.map(
        ({ id, tag, model }) =>
          html`<tr>
            <td><a href=${`/places/units/${seal.id('unit', id)}`}>${tag}</a></td>
            <td>${model.name}</td>
          </tr>`,
      ),
    )}
    <p class="faint">Units and rooms that fail too often stand under <a href="/learned">Learned</a>, with the counts.</p>
    ${list(
      'Models',
      'models',
      ['Name', 'Highest setting', 'Rated up to'],
      models.map(
        ({ id, name, maximumFlowRateLpm, ratedElevationM }) =>
          html`<tr>
            <td><a href=${`/places/models/${seal.id('model', id)}`}>${name}</a></td>
            <td class="figure">${maximumFlowRateLpm} L/min</td>
            <td class="figure">${ratedElevationM === null ? 'not known' : `${ratedElevationM} m`}</td>
          </tr>`,
      ),
    )}
  `;
  return page(leaf(visit, { title: 'Places and units', body }));
}

/** One place as its form has it. */
interface Shown {
  readonly table: PlaceTable;
  readonly title: string;
  /** Where its form goes, and where it is looked at. */
  readonly path: string;
  readonly cells: Cells;
  readonly isNew: boolean;
  /** What is known of it besides. */
  readonly below: VNode | null;
}

async function placeLeaf(visit: Visit, shown: Shown, cells: Cells, faults: readonly Said[]): Promise<Answer> {
  const { properties, models } = await visit.side.records.places();
  const choices = { property: properties.map(({ name }) => name), model: models.map(({ name }) => name) };
  const { table, path, isNew } = shown;
  const offered =
    table === 'rooms' ? { property: choices.property } : table === 'units' ? { model: choices.model } : {};
  const button = isNew ? 'Enter it' : 'Keep the changes';
  const form = tableForm(visit, { table, action: path, button, cells, isNew, faults, choices: offered });
  const body = html`${isNew ? null : shown.below}${isNew ? null : html`<h2>What is on record</h2>`}${form}`;
  return page(leaf(visit, { title: shown.title, body }), faults.length === 0 ? 200 : 422);
}

async function keep(visit: Visit, shown: Shown): Promise<Answer> {
  const { table, isNew, path } = shown;
  const cells = cellsIn(visit.form, table);
  const about = isNew
    ? ({ what: 'new' } as const)
    : ({ what: 'standing', cells: shown.cells, rentalId: null } as const);
  const { faults } = await tellByForm(visit.side.told, { table, about, cells });
  if (faults.length > 0) return placeLeaf(visit, shown, cells, faults);
  visit.side.note('a place was told by page', { person: signedIn(visit).id, table });
  return seeOther(isNew ? '/places' : path);
}

function newPlace({ params, path }: Visit): Shown {
  const table = params['table'] ?? '';
  if (!isTable(table)) throw new NothingHere('no such table');
  const cells: Cells = table === 'properties' ? { emergency_number: '911' } : {};
  return { table, title: `A new ${CALLED[table]}`, path, cells, isNew: true, below: null };
}

export function newPlacePage(visit: Visit): Promise<Answer> {
  const shown = newPlace(visit);
  return placeLeaf(visit, shown, shown.cells, []);
}

export function enterPlace(visit: Visit): Promise<Answer> {
  return keep(visit, newPlace(visit));
}

async function cellsOnRecord(visit: Visit, table: Exclude<FormTable, 'rentals'>, named: Cells): Promise<Cells> {
  const cells = await standingPlace(visit.side.told, table, named);
  if (cells === null) throw new NothingHere('it is gone');
  return cells;
}

function named<Row extends { readonly id: number }>(rows: readonly Row[], id: number): Row {
  return rows.find((row) => row.id === id) ?? nothing();
}
function nothing(): never {
  throw new NothingHere('no such row');
}

const placesOf = ({ side }: Visit): Promise<Places> => side.records.places();

async function unitShown(visit: Visit): Promise<Shown> {
  const found = await visit.side.records.unit(rowOf(visit, 'unit'));
  if (found === null) throw new NothingHere('no such unit');
  const { tag } = found.unit;
  const below = html`<h2>What guests wrote about it</h2>
    ${history(visit, found.conversations)}`;
  const cells = await cellsOnRecord(visit, 'units', { unit: tag });
  return { table: 'units', title: `Unit ${tag}`, path: visit.path, cells, isNew: false, below };
}

async function modelShown(visit: Visit): Promise<Shown> {
  const { name } = named((await placesOf(visit)).models, rowOf(visit, 'model'));
  const cells = await cellsOnRecord(visit, 'models', { model: name });
  return { table: 'models', title: name, path: visit.path, cells, isNew: false, below: null };
}

async function propertyShown(visit: Visit): Promise<Shown> {
  const { properties, rooms } = await placesOf(visit);
  const { id, name } = named(properties, rowOf(visit, 'property'));
  const own = rooms.filter(({ propertyId }) => propertyId === id);
  const below =
    own.length === 0
      ? null
      : html`<h2>Rooms</h2>
          <p>${own.map(({ room }) => html`<a class="tap" href=${roomPath(visit, id, room)}>${room}</a> `)}</p>`;
  const cells = await cellsOnRecord(visit, 'properties', { property: name });
  return { table: 'properties', title: name, path: visit.path, cells, isNew: false, below };
}

async function roomShown(visit: Visit): Promise<Shown> {
  const label = (visit.params['room'] ?? '').slice(0, 60);
  const found = await visit.side.records.room(rowOf(visit, 'property'), label);
  if (found === null) throw new NothingHere('no such property');
  const { property, room } = found;
  const standing = await standingPlace(visit.side.told, 'rooms', { property: property.name, room });
  const below = html`<h2>What is known of its outlets</h2>
    ${outletsKnown(visit, found)}
    <h2>What guests wrote about it</h2>
    ${history(visit, found.conversations)}`;
  const cells = standing ?? { property: property.name, room };
  return { table: 'rooms', title: `${property.name}, room ${room}`, path: visit.path, cells, isNew: false, below };
}

/** Shows a place, or keeps what its form says. */
const pageOf =
  (find: (visit: Visit) => Promise<Shown>) =>
  async (visit: Visit): Promise<Answer> => {
    const shown = await find(visit);
    return placeLeaf(visit, shown, shown.cells, []);
  };
const changeOf =
  (find: (visit: Visit) => Promise<Shown>) =>
  async (visit: Visit): Promise<Answer> =>
    keep(visit, await find(visit));

export const unitPage = pageOf(unitShown);
export const changeUnit = changeOf(unitShown);
export const modelPage = pageOf(modelShown);
export const changeModel = changeOf(modelShown);
export const propertyPage = pageOf(propertyShown);
export const changeProperty = changeOf(propertyShown);
export const roomPage = pageOf(roomShown);
export const changeRoom = changeOf(roomShown);
