// Filters come open from the server. On a phone they fold away behind "Filters (1)".

export function filtersMenu(menu) {
  const desk = window.matchMedia("(min-width: 45.01rem)");
  const fit = () => (menu.open = desk.matches);
  desk.addEventListener("change", fit);
  fit();
}
