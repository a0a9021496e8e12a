using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Advice;

/// <summary>Shown while the methods are still being tried; it comes back by itself.</summary>
public sealed record CountingPage(Order Order, string Title, int Tried);
