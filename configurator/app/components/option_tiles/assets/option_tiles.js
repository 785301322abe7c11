// A question with its options as a radio group. Arrow keys move, Space or Enter takes; a refused
// tile can be reached, and says why when it is asked. What is possible is drawn first; reasons and
// ways out arrive in a second piece of data and are drawn into the tiles that stand already.

import { act, button, element } from "./elements.js";
import { cellOf, withdrawnCell } from "./tile_cell.js";
import { whyPanel } from "./why_panel.js";

const NEXT = ["ArrowRight", "ArrowDown"];
const BACK = ["ArrowLeft", "ArrowUp"];
const TAKE = [" ", "Enter"];
const screens = new WeakMap();
const live = new Set();
const explained = new Map();

function take(screen, tile) {
  const isTheirsAlready = tile.is_chosen && screen.data.can_be_cleared;
  if (tile.standing === "refused") ask(screen, tile);
  if (tile.standing !== "possible" || isTheirsAlready) return;
  screen.choices.forEach((choice) => choice.setAttribute("aria-checked", "false"));
  screen.choices.get(tile.id).setAttribute("aria-checked", "true");
  act(screen, "pick", tile.id);
}

// One answer at a time: opening another closes this one, so that the tiles stay together.
function ask(screen, tile) {
  const isOpen = screen.opened.has(tile.id);
  screen.opened.clear();
  if (!isOpen) screen.opened.add(tile.id);
  screen.wasAsked = true;
  draw(screen);
}

function focusOn(screen, id) {
  screen.choices.forEach((choice, other) => {
    choice.tabIndex = other === id ? 0 : -1;
  });
  screen.choices.get(id).focus();
}

function onKey(screen, tile, event) {
  const ids = screen.data.tiles.map((other) => other.id);
  const here = ids.indexOf(tile.id);
  if (TAKE.includes(event.key)) take(screen, tile);
  else if (NEXT.includes(event.key)) focusOn(screen, ids[(here + 1) % ids.length]);
  else if (BACK.includes(event.key)) focusOn(screen, ids[(here + ids.length - 1) % ids.length]);
  else if (event.key === "Home") focusOn(screen, ids[0]);
  else if (event.key === "End") focusOn(screen, ids[ids.length - 1]);
  else return;
  event.preventDefault();
}

function taken(screen) {
  const said = element("div", "said");
  said.setAttribute("role", "status");
  const back = button("back", "back", "", () => act(screen, "undo", ""));
  back.textContent = "Take it back";
  said.append(element("p", "", screen.data.taken), back);
  return said;
}

function heading(screen) {
  const { data } = screen;
  const top = element("div", "top");
  const question = element("h3", "", data.question);
  question.id = "question";
  top.append(question, element("p", "note", data.note));
  if (data.can_be_cleared) {
    const clear = button("clear", "clear", "", () => act(screen, "clear", ""));
    clear.textContent = "Leave it open again";
    clear.setAttribute("aria-label", `${data.label}: leave it open again`);
    top.append(clear);
  }
  if (data.taken) top.append(taken(screen));
  return top;
}

function radiosOf(screen) {
  const radios = element("div", screen.data.shown_as);
  radios.setAttribute("role", "radiogroup");
  radios.setAttribute("aria-labelledby", "question");
  const doing = {
    click(tile) {
      focusOn(screen, tile.id);
      take(screen, tile);
    },
    key: (tile, event) => onKey(screen, tile, event),
    ask: (tile) => ask(screen, tile),
  };
  if (screen.data.withdrawn) radios.append(withdrawnCell(screen));
  screen.data.tiles.forEach((tile) => {
    radios.append(cellOf(screen, tile, doing));
    if (screen.opened.has(tile.id)) radios.append(whyPanel(screen, tile));
  });
  return radios;
}

function markReachable(screen, held) {
  const { tiles } = screen.data;
  const chosen = tiles.find((tile) => tile.is_chosen);
  const first = chosen ?? tiles.find((tile) => tile.standing === "possible") ?? tiles[0];
  const reachable = screen.choices.has(held) ? held : first.id;
  screen.choices.forEach((choice, id) => {
    choice.tabIndex = id === reachable ? 0 : -1;
  });
}

// Answers somebody asked for stay open; few refusals open by themselves until somebody asks.
function settleOpened(screen) {
  const canSay = new Map(screen.data.tiles.map((tile) => [tile.id, tile]));
  const isSaying = (tile) => tile && (tile.standing === "refused" || tile.follows);
  if (!screen.wasAsked) {
    screen.opened.clear();
    const refused = screen.data.tiles.filter((tile) => tile.standing === "refused");
    if (screen.data.opens_reasons) refused.forEach((tile) => screen.opened.add(tile.id));
  }
  screen.opened.forEach((id) => {
    if (!isSaying(canSay.get(id))) screen.opened.delete(id);
  });
}

function keepFocus(screen, active) {
  if (!active) return;
  const named = (name, value) =>
    value ? screen.root.querySelector(`[data-${name}="${CSS.escape(value)}"]`) : null;
  const { option, hold, of } = active;
  const found = named("option", option) ?? named("hold", hold) ?? named("option", of);
  const fallback = screen.root.querySelector('[role="radio"][tabindex="0"]');
  (found ?? fallback)?.focus({ preventScroll: true });
}

function draw(screen) {
  const focused = screen.root.getRootNode().activeElement;
  const active = focused && screen.root.contains(focused) ? { ...focused.dataset } : null;
  settleOpened(screen);
  screen.choices = new Map();
  screen.root.replaceChildren(heading(screen), radiosOf(screen));
  screen.root.setAttribute("aria-busy", "false");
  screen.root.dataset.group = screen.data.group_id;
  screen.root.dataset.explained = String(screen.data.tiles.every((tile) => tile.is_explained));
  markReachable(screen, active?.option ?? active?.of);
  keepFocus(screen, active);
}

// A question that would look the same again is left alone; drawing costs more than comparing. One
// that somebody just acted on is drawn in any case: a refused pick must not stay marked.
function show(screen, data) {
  const look = JSON.stringify({ ...data, revision: 0 });
  const isBusy = screen.root.getAttribute("aria-busy") === "true";
  screen.data = data;
  screen.root.dataset.revision = String(data.revision);
  if (look === screen.look && !isBusy) return;
  screen.look = look;
  draw(screen);
}

function newest(data) {
  const known = explained.get(data.group_id);
  const isSame = known && known.reference === data.reference && known.revision === data.revision;
  return isSame ? known : data;
}

function deliver(questions) {
  live.forEach((screen) => screen.root.isConnected || live.delete(screen));
  questions.forEach((data) => {
    explained.set(data.group_id, data);
    live.forEach((screen) => {
      const { group_id: group, revision, reference } = screen.data;
      const isIts = group === data.group_id && revision === data.revision;
      if (!isIts || reference !== data.reference) return;
      show(screen, data);
    });
  });
}

export default function (component) {
  const { data, parentElement, setTriggerValue } = component;
  if (data.explained) {
    deliver(data.explained);
    return;
  }
  let screen = screens.get(parentElement);
  if (!screen) {
    screen = { root: element("section", "question"), choices: new Map(), opened: new Set() };
    parentElement.append(screen.root);
    screens.set(parentElement, screen);
    live.add(screen);
  }
  screen.send = setTriggerValue;
  show(screen, newest(data));
}
