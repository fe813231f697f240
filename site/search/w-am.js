bayleaf.words("am",{"amount":"3:k","amounts":"3:m"});
