// Runs before the page is drawn, so that a night page never flashes white.
{
  let kept = null;
  try {
    kept = localStorage.getItem("theme");
  } catch {
    kept = null; // storage is switched off: follow the machine
  }
  if (kept === "light" || kept === "dark") document.documentElement.dataset.theme = kept;
}
