// Places in a job: `opening[0].width.middle`, as in the job file.

export function parsePath(path) {
  const steps = [];
  for (const [, name, quoted, index] of path.matchAll(
    /\.?(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)"|\[(\d+)\])/g,
  )) {
    steps.push(index !== undefined ? Number(index) : quoted !== undefined ? JSON.parse(`"${quoted}"`) : name);
  }
  return steps;
}

export function at(document, path) {
  return parsePath(path).reduce((here, step) => here?.[step], document);
}
