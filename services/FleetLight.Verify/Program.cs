return await FleetLight.Verify.VerifyCommand.Make(Console.Out, Console.Error).Parse(args).InvokeAsync();
