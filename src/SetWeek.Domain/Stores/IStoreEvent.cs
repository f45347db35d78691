namespace SetWeek.Domain.Stores;

/// <summary>An event in the stream of a store.</summary>
public interface IStoreEvent;

public sealed record StoreOpened(StoreProfile Store) : IStoreEvent;
