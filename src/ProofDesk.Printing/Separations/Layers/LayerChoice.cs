namespace ProofDesk.Printing.Separations.Layers;

/// <summary>What happens to art whose maker kept the inks apart.</summary>
public enum LayerChoice
{
    /// <summary>Each layer becomes a plate.</summary>
    Keep,

    /// <summary>The layers are one picture, separated by its colours.</summary>
    Flatten,
}
