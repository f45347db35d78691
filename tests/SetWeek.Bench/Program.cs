Console.Error.WriteLine("Usage: ops/bench NAME"); return 2;
