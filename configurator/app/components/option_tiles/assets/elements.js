// Elements made by hand. Words arrive as data and are only ever set as textContent.

export function element(name, className, words) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (words !== undefined) made.textContent = words;
  return made;
}

// `hold` names the button, so that it keeps the focus when its question is drawn again; `option`
// is the tile that takes the focus when the button is gone by then.
export function button(className, hold, option, onClick) {
  const made = element("button", className);
  made.type = "button";
  made.dataset.hold = hold;
  made.dataset.of = option;
  made.addEventListener("click", onClick);
  return made;
}

export function act(screen, kind, option, changes) {
  screen.root.setAttribute("aria-busy", "true");
  const { group_id: group, revision } = screen.data;
  const click = `${Date.now().toString(36)}-${Math.random().toString(36).slice(2)}`;
  screen.send("act", { kind, group, option, revision, click, changes: changes ?? [] });
}
