// One option as a tile: a radio that may be refused, with its buttons beneath it.

import { act, button, element } from "./elements.js";

const REFUSED = "Not possible now";
const CHECKING = "Checking …";

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

function footing(tile) {
  const line = element("span", "footing");
  if (tile.badge) line.append(element("span", "badge", tile.badge));
  else line.append(element("span", tile.is_level ? "price level" : "price", tile.price));
  if (tile.standing === "refused") line.append(element("span", "standing", REFUSED));
  if (tile.standing === "checking") line.append(element("span", "standing wait", CHECKING));
  return line;
}

function choiceOf(screen, tile, doing) {
  const choice = element("div", "choice");
  choice.setAttribute("role", "radio");
  choice.setAttribute("aria-checked", String(tile.is_chosen));
  choice.setAttribute("aria-disabled", String(tile.standing !== "possible"));
  if (screen.opened.has(tile.id)) choice.setAttribute("aria-describedby", `why-${tile.id}`);
  choice.dataset.option = tile.id;
  choice.append(headline(screen, tile), element("span", "says", tile.summary), footing(tile));
  choice.addEventListener("click", () => doing.click(tile));
  choice.addEventListener("keydown", (event) => doing.key(tile, event));
  return choice;
}

function whyButton(screen, tile, doing) {
  const made = button("why-not", `why-${tile.id}`, tile.id, () => doing.ask(tile));
  made.textContent = tile.follows ? "Why?" : "Why not?";
  made.setAttribute("aria-label", `${tile.label}: ${made.textContent}`);
  made.setAttribute("aria-expanded", String(screen.opened.has(tile.id)));
  made.setAttribute("aria-controls", `why-${tile.id}`);
  return made;
}

function keepButton(screen, tile) {
  const kept = screen.data.must_keep;
  const turn = () => act(screen, kept ? "let_go" : "keep", "");
  const made = button("keep", "keep", tile.id, turn);
  made.append(element("span", "box"), element("span", "", "Must keep"));
  made.setAttribute("aria-pressed", String(kept));
  made.setAttribute("aria-label", `${screen.data.label}, ${tile.label}: must keep`);
  return made;
}

export function cellOf(screen, tile, doing) {
  const cell = element("div", "cell");
  cell.classList.toggle("refused", tile.standing === "refused");
  cell.classList.toggle("checking", tile.standing === "checking");
  cell.classList.toggle("taken", tile.is_chosen);
  cell.classList.toggle("asked", screen.opened.has(tile.id));
  const choice = choiceOf(screen, tile, doing);
  screen.choices.set(tile.id, choice);
  cell.append(choice);
  if (tile.standing === "refused" || tile.follows) cell.append(whyButton(screen, tile, doing));
  if (tile.is_chosen && screen.data.can_be_kept) cell.append(keepButton(screen, tile));
  return cell;
}

export function withdrawnCell(screen) {
  const cell = element("div", "cell withdrawn");
  const words = element("div", "choice");
  words.append(
    element("span", "name", `Withdrawn from the catalog: ${screen.data.withdrawn}`),
    element("span", "says", "It was chosen here, and nothing was put in its place."),
    element("span", "says", "Choose another option, put it back into the catalog, or leave it open."),
  );
  const open = button("why-not", "forget", "", () => act(screen, "clear", ""));
  open.textContent = "Leave it open";
  open.setAttribute("aria-label", `${screen.data.label}: leave it open`);
  cell.append(words, open);
  return cell;
}
