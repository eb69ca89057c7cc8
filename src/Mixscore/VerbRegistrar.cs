using Mixscore.Screen;
using Spectre.Console.Cli;

namespace Mixscore;

/// <summary>Hands every verb the terminal. The verbs ask for nothing else, so no container is needed.</summary>
internal sealed class VerbRegistrar(Terminal terminal) : ITypeRegistrar, ITypeResolver
{
    private readonly Dictionary<Type, Func<object>> _made = new() { [typeof(Terminal)] = () => terminal };

    public void Register(Type service, Type implementation) => _made[service] = () => Make(implementation);

    public void RegisterInstance(Type service, object implementation) => _made[service] = () => implementation;

    public void RegisterLazy(Type service, Func<object> factory) => _made[service] = factory;

    public ITypeResolver Build() => this;

    public object? Resolve(Type? type)
    {
        if (type is null) return null;
        if (_made.TryGetValue(type, out var factory)) return factory();
        if (type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IEnumerable<>)) return AllOf(type.GenericTypeArguments[0]);
        return type.IsAbstract || type.IsInterface ? null : Make(type);
    }

    private Array AllOf(Type type)
    {
        var all = Array.CreateInstance(type, _made.ContainsKey(type) ? 1 : 0);
        if (all.Length > 0) all.SetValue(Resolve(type), 0);
        return all;
    }

    private object Make(Type type)
    {
        var constructor = type.GetConstructors().MaxBy(candidate => candidate.GetParameters().Length)!;
        return constructor.Invoke([.. constructor.GetParameters().Select(parameter => Resolve(parameter.ParameterType))]);
    }
}
