// Where a plane across x (axis 0) or y (axis 1) meets the triangles of a part: the ends of short lines.

export function sectionLines(points, triangles, axis, at) {
  const ends = [];
  const cross = (i, j) => {
    const share = (at - points[i + axis]) / (points[j + axis] - points[i + axis]);
    for (let k = 0; k < 3; k += 1) ends.push(k === axis ? at : points[i + k] + share * (points[j + k] - points[i + k]));
  };
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [above, beyond, over] = [points[a + axis] >= at, points[b + axis] >= at, points[c + axis] >= at];
    if (above !== beyond) cross(a, b);
    if (beyond !== over) cross(b, c);
    if (over !== above) cross(c, a);
  }
  return ends;
}
