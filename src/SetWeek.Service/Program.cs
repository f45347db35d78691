using SetWeek.Service;

if (Settings.From(Environment.GetEnvironmentVariable) is { } settings) return await Hosting.Run(settings);
Console.Error.WriteLine($"The service needs a PostgreSQL server: set {Settings.PostgresVariable} to an Npgsql connection string.");
return 1;
