using System.Net;
using System.Net.Sockets;

namespace ProofDesk.Web.Security.Limits;

/// <summary>Addresses as networks: what is counted together, and how much of one is shown and kept.</summary>
internal static class Networks
{
    /// <summary>One IPv4 address, or the 64 bits that an IPv6 household shares: whoever has one has 2^64 addresses.</summary>
    public static string Counted(IPAddress? address)
    {
        if (Plain(address) is not { } plain)
            return "none";
        if (plain.AddressFamily == AddressFamily.InterNetwork)
            return plain.ToString();
        return Cut(plain, 8) + "/64";
    }

    /// <summary>Enough to know one's own again, too little to find a person by: three parts of four, or 48 bits.</summary>
    public static string Shown(IPAddress? address)
    {
        if (Plain(address) is not { } plain)
            return "unknown";
        if (IPAddress.IsLoopback(plain))
            return "the server itself";
        return plain.AddressFamily == AddressFamily.InterNetwork ? Cut(plain, 3) : Cut(plain, 6) + "/48";
    }

    private static IPAddress? Plain(IPAddress? address) =>
        address is { IsIPv4MappedToIPv6: true } ? address.MapToIPv4() : address;

    private static string Cut(IPAddress address, int bytes)
    {
        var all = address.GetAddressBytes();
        if (all.Length == 4)
            return string.Join('.', all.Take(bytes)) + ".*";
        Array.Clear(all, bytes, all.Length - bytes);
        return new IPAddress(all).ToString();
    }
}
