return await FleetLight.FieldAgent.Commands.FieldCommand.RunAsync(args);
