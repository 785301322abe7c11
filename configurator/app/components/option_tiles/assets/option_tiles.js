// A question with its options as a radio group. Words arrive as data and are only ever set as
// textContent. Arrow keys move, Space or Enter takes; a refused tile can be reached and read.

const NEXT = ["ArrowRight", "ArrowDown"];
const BACK = ["ArrowLeft", "ArrowUp"];
const TAKE = [" ", "Enter"];
const screens = new WeakMap();

function element(name, className, words) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (words !== undefined) made.textContent = words;
  return made;
}

function clickName() {
  return `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;
}

function act(screen, kind, option) {
  screen.root.setAttribute("aria-busy", "true");
  const { group_id: group, revision } = screen.data;
  screen.send("act", { kind, group, option, revision, click: clickName() });
}

function take(screen, tile) {
  const isTheirsAlready = tile.is_chosen && screen.data.can_be_cleared;
  if (!tile.is_available || isTheirsAlready) return;
  screen.choices.forEach((choice) => choice.setAttribute("aria-checked", "false"));
  screen.choices.get(tile.id).setAttribute("aria-checked", "true");
  act(screen, "pick", tile.id);
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

function headline(screen, tile) {
  const line = element("span", "headline");
  if (tile.colour || screen.data.shown_as === "colours") {
    const patch = element("span", tile.colour ? "patch" : "patch plain");
    patch.style.backgroundColor = tile.colour;
    if (tile.second_colour) {
      const halves = `transparent 55%, ${tile.second_colour} 55%`;
      patch.style.backgroundImage = `linear-gradient(${halves})`;
    }
    line.append(patch);
  }
  line.append(element("span", "name", tile.label));
  return line;
}

function price(tile) {
  if (tile.badge) return element("span", "badge", tile.badge);
  return element("span", "price", tile.price);
}

function choiceOf(screen, tile) {
  const choice = element("div", "choice");
  choice.setAttribute("role", "radio");
  choice.setAttribute("aria-checked", String(tile.is_chosen));
  choice.setAttribute("aria-disabled", String(!tile.is_available));
  choice.dataset.option = tile.id;
  choice.append(headline(screen, tile), element("span", "says", tile.summary), price(tile));
  if (!tile.is_available) {
    const why = element("span", "why");
    why.append(element("strong", "", "Not possible now. "), document.createTextNode(tile.reason));
    choice.append(why);
  }
  choice.addEventListener("click", () => {
    focusOn(screen, tile.id);
    take(screen, tile);
  });
  choice.addEventListener("keydown", (event) => onKey(screen, tile, event));
  return choice;
}

function wayOutOf(screen, tile) {
  const button = element("button", "way-out");
  button.type = "button";
  button.append(element("strong", "", "Take this way out. "), document.createTextNode(tile.way_out));
  button.addEventListener("click", () => act(screen, "way_out", tile.id));
  return button;
}

function cellOf(screen, tile) {
  const cell = element("div", "cell");
  cell.classList.toggle("refused", !tile.is_available);
  cell.classList.toggle("taken", tile.is_chosen);
  const choice = choiceOf(screen, tile);
  screen.choices.set(tile.id, choice);
  cell.append(choice);
  if (tile.way_out) cell.append(wayOutOf(screen, tile));
  return cell;
}

function heading(screen) {
  const top = element("div", "top");
  const question = element("h3", "", screen.data.question);
  question.id = "question";
  top.append(question, element("p", "note", screen.data.note));
  if (screen.data.can_be_cleared) {
    const clear = element("button", "clear", "Leave it open again");
    clear.type = "button";
    clear.setAttribute("aria-label", `${screen.data.label}: leave it open again`);
    clear.addEventListener("click", () => act(screen, "clear", ""));
    top.append(clear);
  }
  return top;
}

function markReachable(screen) {
  const tiles = screen.data.tiles;
  const first = tiles.find((tile) => tile.is_chosen) ?? tiles.find((tile) => tile.is_available);
  const reachable = screen.choices.has(screen.focused) ? screen.focused : (first ?? tiles[0]).id;
  screen.choices.forEach((choice, id) => {
    choice.tabIndex = id === reachable ? 0 : -1;
  });
}

function draw(screen) {
  const active = screen.root.getRootNode().activeElement;
  const held = active && screen.root.contains(active) ? active.dataset.option : undefined;
  screen.focused = held;
  screen.choices = new Map();
  const radios = element("div", screen.data.shown_as);
  radios.setAttribute("role", "radiogroup");
  radios.setAttribute("aria-labelledby", "question");
  radios.append(...screen.data.tiles.map((tile) => cellOf(screen, tile)));
  screen.root.replaceChildren(heading(screen), radios);
  screen.root.setAttribute("aria-busy", "false");
  screen.root.dataset.group = screen.data.group_id;
  screen.root.dataset.revision = String(screen.data.revision);
  markReachable(screen);
  if (held !== undefined && screen.choices.has(held)) screen.choices.get(held).focus();
}

export default function (component) {
  const { data, parentElement, setTriggerValue } = component;
  let screen = screens.get(parentElement);
  if (!screen) {
    screen = { root: element("section", "question"), choices: new Map() };
    parentElement.append(screen.root);
    screens.set(parentElement, screen);
  }
  screen.data = data;
  screen.send = setTriggerValue;
  draw(screen);
}
