// What is wrong with a GeoJSON file by RFC 7946; one JSON array of sentences for each file, empty where nothing is.
//
// usage: node valid.mjs CHECK-GEOJSON GEOJSONHINT FILE...      (what the test `earth_files` runs)
//
// Structure, rings and bounding boxes by the npm package @placemarkio/check-geojson, the right-hand rule (§3.1.6) by
// @mapbox/geojsonhint as well. Neither looks at `crs`, which is no more (§4), at ranges (§4: degrees, longitude first) nor
// at what a bounding box holds (§5), so these are looked at here.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const [maintained, strict, ...files] = process.argv.slice(2);
const require = createRequire(import.meta.url);
const { getIssues } = require(maintained);
const { hint } = require(strict);

function* places(coordinates) {
  if (typeof coordinates?.[0] === "number") yield coordinates;
  else for (const inner of coordinates ?? []) yield* places(inner);
}

function ranges(collection) {
  const said = [];
  const [west, south, east, north] = collection.bbox ?? [];
  if ("crs" in collection) said.push("a crs");
  if (collection.bbox?.length !== 4) said.push("no bounding box of four numbers");
  for (const feature of collection.features ?? []) {
    for (const [x, y] of places(feature.geometry?.coordinates)) {
      if (!(Math.abs(x) <= 180 && Math.abs(y) <= 90)) said.push(`no place on earth: ${x}, ${y}`);
      if (!(west <= x && x <= east && south <= y && y <= north)) said.push(`outside the box: ${x}, ${y}`);
    }
  }
  return said;
}

const all = files.map((file) => {
  const text = readFileSync(file, "utf8");
  const said = [...getIssues(text), ...hint(text, { precisionWarning: false })].map((one) => one.message);
  return said.concat(ranges(JSON.parse(text)));
});
process.stdout.write(JSON.stringify(all));
