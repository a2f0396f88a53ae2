type Cell = { word: number; bit: number } | null;

/**
 * Which codeword (from 0) and bit (1 the highest) each module of a mapping matrix carries: the placement of
 * ISO/IEC 16022 Annex F for square symbols of one region, written anew here as a check on the encoder.
 */
export function placeCodewords(size: number): Cell[][] {
  const cells: (Cell | undefined)[][] = Array.from({ length: size }, () => Array<Cell | undefined>(size));
  const put = (row: number, column: number, word: number, bit: number) => {
    let [y, x] = [row, column];
    if (y < 0) [y, x] = [y + size, x + 4 - ((size + 4) % 8)];
    if (x < 0) [y, x] = [y + 4 - ((size + 4) % 8), x + size];
    const line = cells[y];
    if (line) line[x] = { word, bit };
  };
  const shape: [number, number][] = [
    [-2, -2],
    [-2, -1],
    [-1, -2],
    [-1, -1],
    [-1, 0],
    [0, -2],
    [0, -1],
    [0, 0],
  ];
  const putUtah = (row: number, column: number, word: number) => {
    shape.forEach(([dy, dx], index) => {
      put(row + dy, column + dx, word, index + 1);
    });
  };
  const putCorner = (word: number, spots: [number, number][]) => {
    spots.forEach(([y, x], index) => {
      put(y < 0 ? size + y : y, x < 0 ? size + x : x, word, index + 1);
    });
  };
  let word = 0;
  let [row, column] = [4, 0];
  do {
    if (row === size && column === 0) {
      putCorner(word++, [
        [-1, 0],
        [-1, 1],
        [-1, 2],
        [0, -2],
        [0, -1],
        [1, -1],
        [2, -1],
        [3, -1],
      ]);
    }
    if (row === size - 2 && column === 0 && size % 4 !== 0) {
      putCorner(word++, [
        [-3, 0],
        [-2, 0],
        [-1, 0],
        [0, -4],
        [0, -3],
        [0, -2],
        [0, -1],
        [1, -1],
      ]);
    }
    do {
      if (row < size && column >= 0 && !cells[row]?.[column]) putUtah(row, column, word++);
      row -= 2;
      column += 2;
    } while (row >= 0 && column < size);
    row += 1;
    column += 3;
    do {
      if (row >= 0 && column < size && !cells[row]?.[column]) putUtah(row, column, word++);
      row += 2;
      column -= 2;
    } while (row < size && column >= 0);
    row += 3;
    column += 1;
  } while (row < size || column < size);
  return cells.map((line) => Array.from(line, (cell) => cell ?? null));
}
