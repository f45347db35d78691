return await SetWeek.Cli.CommandLine.Run(args);
