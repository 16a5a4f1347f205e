using k8s;
using k8s.Models;
using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>
/// The Kubernetes manifests, read strictly as the types of the official client: a member that the API does not know is an
/// error. Then what we ask of them, by the restricted profile of the Pod Security Standards.
/// </summary>
public sealed class KubernetesTests
{
    private const string Folder = "deploy/kubernetes";

    private static string[] Files => [.. Directory.EnumerateFiles(Repository.At(Folder), "*.yaml").Select(Path.GetFileName).Where(name => name != "kustomization.yaml").Order()!];

    private static V1Deployment Deployment => Read<V1Deployment>("deployment.yaml");

    private static V1PodSpec Pod => Deployment.Spec.Template.Spec;

    private static V1Container Container => Assert.Single(Pod.Containers);

    [Fact]
    public void Every_manifest_is_of_a_type_of_the_API_and_says_nothing_that_it_does_not_know()
    {
        object[] all = [.. Files.SelectMany(file => KubernetesYaml.LoadAllFromString(Repository.Read($"{Folder}/{file}"), strict: true))];

        Assert.Equal(Files.Length, all.Length);
        Assert.All(all.OfType<IKubernetesObject<V1ObjectMeta>>().Where(each => each is not V1Namespace), each => Assert.Equal("fleetlight", each.Metadata.NamespaceProperty));
    }

    [Fact]
    public void A_mistake_in_a_manifest_is_found()
    {
        string wrong = Repository.Read($"{Folder}/deployment.yaml").Replace("readOnlyRootFilesystem", "readOnlyRootFilesytem", StringComparison.Ordinal);

        Assert.ThrowsAny<Exception>(() => KubernetesYaml.LoadAllFromString(wrong, strict: true));
    }

    [Fact]
    public void The_kustomization_names_every_manifest()
    {
        string[] named = [.. Yaml.Read($"{Folder}/kustomization.yaml")["resources"]!.AsArray().Select(each => (string)each!).Order()];

        Assert.Equal(Files, named);
    }

    [Fact]
    public void The_pod_keeps_to_the_restricted_profile()
    {
        Assert.Equal("restricted", Read<V1Namespace>("namespace.yaml").Metadata.Labels["pod-security.kubernetes.io/enforce"]);
        Assert.True(Pod.SecurityContext.RunAsNonRoot);
        Assert.Equal(1654, Pod.SecurityContext.RunAsUser);
        Assert.Equal("RuntimeDefault", Pod.SecurityContext.SeccompProfile.Type);
        Assert.False(Container.SecurityContext.AllowPrivilegeEscalation);
        Assert.True(Container.SecurityContext.ReadOnlyRootFilesystem);
        Assert.Equal(["ALL"], Container.SecurityContext.Capabilities.Drop);
        Assert.Null(Container.SecurityContext.Capabilities.Add);
        Assert.False(Pod.AutomountServiceAccountToken);
        Assert.False(Read<V1ServiceAccount>("serviceaccount.yaml").AutomountServiceAccountToken);
    }

    [Fact]
    public void One_node_stays_whatever_is_drained_or_rolled_out()
    {
        V1PodDisruptionBudget budget = Read<V1PodDisruptionBudget>("disruptionbudget.yaml");

        Assert.Equal(2, Deployment.Spec.Replicas);
        Assert.Equal("1", budget.Spec.MinAvailable.ToString());
        Assert.Equal("0", Deployment.Spec.Strategy.RollingUpdate.MaxUnavailable.ToString());
        Assert.Contains(Pod.TopologySpreadConstraints, each => each.TopologyKey == "kubernetes.io/hostname");
        Dictionary<string, string> labels = new(Deployment.Spec.Template.Metadata.Labels);
        Assert.All(
            (IDictionary<string, string>[])[
                budget.Spec.Selector.MatchLabels, Deployment.Spec.Selector.MatchLabels, Read<V1Service>("service.yaml").Spec.Selector,
                Read<V1NetworkPolicy>("networkpolicy.yaml").Spec.PodSelector.MatchLabels, .. Pod.TopologySpreadConstraints.Select(each => each.LabelSelector.MatchLabels)],
            selector => Assert.Equal(labels, new Dictionary<string, string>(selector)));
    }

    [Fact]
    public void There_are_three_probes_and_only_readiness_asks_for_the_database()
    {
        Assert.Equal("/health/live", Container.StartupProbe.HttpGet.Path);
        Assert.Equal("/health/live", Container.LivenessProbe.HttpGet.Path);
        Assert.Equal("/health/ready", Container.ReadinessProbe.HttpGet.Path);
        Assert.NotEmpty(Container.Resources.Requests);
        Assert.True(Container.Resources.Limits.ContainsKey("memory"));
        Assert.True(Pod.TerminationGracePeriodSeconds > 30 + Container.Lifecycle.PreStop.Sleep.Seconds);
    }

    [Fact]
    public void Secrets_are_named_and_never_written_down()
    {
        Assert.Equal("fleetlight", Pod.Volumes.Single(volume => volume.Name == "secrets").Secret.SecretName);
        Assert.Equal("/run/secrets", Container.VolumeMounts.Single(mount => mount.Name == "secrets").MountPath);
        Assert.DoesNotContain(Files, file => Repository.Read($"{Folder}/{file}").Contains("kind: Secret", StringComparison.Ordinal));
        Assert.DoesNotContain(Files, file => Repository.Read($"{Folder}/{file}").Contains("Password=", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public void The_network_is_closed_but_for_what_is_named()
    {
        V1NetworkPolicySpec policy = Read<V1NetworkPolicy>("networkpolicy.yaml").Spec;

        Assert.Equal(["Ingress", "Egress"], policy.PolicyTypes);
        Assert.All(policy.Ingress, rule => Assert.NotEmpty(rule.FromProperty));
        Assert.All(policy.Egress, rule => Assert.NotEmpty(rule.Ports));
        Assert.Contains(policy.Egress.SelectMany(rule => rule.To ?? []), to => to.IpBlock?.Except?.Contains("169.254.0.0/16") is true);
    }

    private static T Read<T>(string file) => KubernetesYaml.Deserialize<T>(Repository.Read($"{Folder}/{file}"), strict: true);
}
