/** What fits on a printed page with its caption. */
const mostRows = 12;

/** The first part of a long picture fills what the top of a page has left on paper. */
const leadingRows = 5;

/** The rows of a picture in as many parts as it takes for none to be cut by the end of a page, the worst few first. */
export function pictureParts<Row>(rows: Row[]): Row[][] {
  if (rows.length <= mostRows) return [rows];
  const rest = rows.slice(leadingRows);
  const size = Math.ceil(rest.length / Math.ceil(rest.length / mostRows));
  const later = Array.from({ length: Math.ceil(rest.length / size) }, (_, index) =>
    rest.slice(index * size, (index + 1) * size),
  );
  return [rows.slice(0, leadingRows), ...later];
}
