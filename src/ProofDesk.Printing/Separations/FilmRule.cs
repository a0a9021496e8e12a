using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// From the tone a plate should print to the tone its film needs on any screen and mesh. A separator leaves it with
/// its plate, because only the separator knows what the plate's dots grow on.
/// </summary>
internal delegate BytePlane FilmRule(BytePlane wanted, Screen screen, Mesh mesh, WeakTones weak);
