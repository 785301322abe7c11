// Why a tile is refused or follows, and the ways out as buttons.

import { act, button, element } from "./elements.js";

function differencesOf(way) {
  const list = element("span", "differences");
  way.differences.forEach((moved) => {
    const line = element("span", "difference");
    const label = element("span", "figure", moved.label);
    line.append(label, document.createTextNode(" "), element("b", "", moved.value));
    list.append(line, document.createTextNode(" "));
  });
  return list;
}

function wayOutOf(screen, tile, way, number) {
  const take = () => act(screen, "way_out", tile.id, way.changes);
  const made = button("way-out", `way-${tile.id}-${number}`, tile.id, take);
  const head = element("span", "change");
  way.lines.forEach((line) => head.append(element("span", "line", line)));
  made.append(element("strong", "take", "Take this way out"), head);
  if (way.differences.length) made.append(differencesOf(way));
  return made;
}

function waysOutOf(screen, tile) {
  const part = element("div", "ways");
  tile.ways_out.forEach((way, index) => part.append(wayOutOf(screen, tile, way, index + 1)));
  return part;
}

export function whyPanel(screen, tile) {
  const panel = element("div", tile.follows ? "panel follows" : "panel");
  panel.id = `why-${tile.id}`;
  panel.setAttribute("role", "group");
  panel.setAttribute("aria-live", "polite");
  const title = tile.follows ? `Why ${tile.label} follows` : `Why not ${tile.label}?`;
  panel.setAttribute("aria-label", title);
  panel.append(element("p", "panel-title", title));
  if (!tile.is_explained) {
    panel.append(element("p", "waiting", "Working out why …"));
    return panel;
  }
  panel.append(element("p", "why", tile.why));
  if (tile.no_way_out) panel.append(element("p", "no-way", tile.no_way_out));
  if (!tile.ways_out.length) return panel;
  const count = tile.ways_out.length;
  const ways = count === 1 ? "One way out" : `${count} ways out`;
  panel.append(element("p", "panel-title ways-title", ways), waysOutOf(screen, tile));
  if (tile.ways_out.some((way) => way.differences.length)) {
    panel.append(element("p", "compared", screen.data.compared_with));
  }
  return panel;
}
