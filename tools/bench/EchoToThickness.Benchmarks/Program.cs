using BenchmarkDotNet.Running;
using EchoToThickness.Benchmarks;

// dotnet run -c Release -- --filter '*'        all kernels, one thread; see ../README.md
BenchmarkSwitcher.FromAssembly(typeof(FilterBenchmarks).Assembly).Run(args);
