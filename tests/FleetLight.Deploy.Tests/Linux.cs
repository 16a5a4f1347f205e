using System.Runtime.Versioning;

// What is deployed runs on Linux, and so do the tests of it.
[assembly: SupportedOSPlatform("linux")]
