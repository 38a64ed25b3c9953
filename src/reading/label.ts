/** A tag or a room label without what guests leave out or add: case, dashes and spaces. "nb 07" finds "NB-07". */
export function labelKey(label: string): string {
  return label.replaceAll(/[\s\p{Dash}]/gu, '').toUpperCase();
}
