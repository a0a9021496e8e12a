Console.WriteLine("proofdesk");
