using Microsoft.AspNetCore.Mvc;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Web.Records;

/// <summary>Streams a sealed packet; its length is known before the first byte.</summary>
public sealed class PacketResult(RecordPage page, Adapters.Database.Records records) : IActionResult
{
    public async Task ExecuteResultAsync(ActionContext context)
    {
        var response = context.HttpContext.Response;
        var cancel = context.HttpContext.RequestAborted;
        var packet = (await records.PacketAsync(page.Decision.Id, cancel))!;
        var name = $"order-{page.Read.Order.Number}-version-{page.Read.Version.Number}-approved.zip";
        response.ContentType = "application/zip";
        response.ContentLength = PacketWriter.Length(packet);
        response.Headers.ContentDisposition = $"attachment; filename=\"{name}\"";
        await records.WritePacketAsync(packet, response.Body, cancel);
    }
}
