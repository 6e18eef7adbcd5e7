/**
 * The land is cut into cells of 1/40° (2.8 km from south to north). Of a large file only what lies in a cell with a
 * node of a road tunnel, or next to one, is kept: at least 2.7 km around every tunnel, far more than the approach
 * (500 m) and what follows a portal need.
 */
export const CELLS_PER_DEG = 40;
const COLUMNS = 360 * CELLS_PER_DEG;
const ROWS = 180 * CELLS_PER_DEG;

/** The number of the cell at a position in degrees, which must be on the globe. */
export function toCell(lon: number, lat: number): number {
  return toRow(lat) * COLUMNS + toColumn(lon);
}

export function toRow(lat: number): number {
  return Math.min(ROWS - 1, Math.floor((lat + 90) * CELLS_PER_DEG));
}

export function toColumn(lon: number): number {
  return Math.min(COLUMNS - 1, Math.floor((lon + 180) * CELLS_PER_DEG));
}

/** These cells and their neighbours; towards the poles, where cells are narrow, as many columns as make the same width. */
export function listCellsAround(cells: ReadonlySet<number>): Set<number> {
  const around = new Set<number>();
  for (const cell of cells) {
    const row = Math.floor(cell / COLUMNS);
    const column = cell % COLUMNS;
    for (let r = Math.max(0, row - 1); r <= Math.min(ROWS - 1, row + 1); r += 1) {
      const reach = countColumns(r);
      for (let step = -reach; step <= reach; step += 1) {
        around.add(r * COLUMNS + ((column + step + COLUMNS) % COLUMNS));
      }
    }
  }
  return around;
}

/** How many columns at this row are as wide as a row is high, at most half of the way round. */
function countColumns(row: number): number {
  const lat = Math.max(Math.abs(row / CELLS_PER_DEG - 90), Math.abs((row + 1) / CELLS_PER_DEG - 90));
  const share = Math.cos((Math.min(lat, 89.9) * Math.PI) / 180);
  return Math.min(Math.ceil(1 / share), COLUMNS / 2);
}
