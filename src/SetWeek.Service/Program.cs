return await SetWeek.Service.Commands.CommandLine.Run(args);
